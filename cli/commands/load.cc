#include "cli/commands/load.h"

#include "cli/read/catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/write/file.h"
#include "cli/write/quantity.h"
#include "model/fit.h"

#include <algorithm>
#include <cstdio>

#include <fmt/format.h>

namespace easewright {
namespace {

/// A file of garbage can earn a complaint a line; past this many nobody reads on.
constexpr size_t kMostComplaints = 100;

/// Limits of a value that cross, told once all of a job is known: they may hang on the body.
void check_limits(const LoadedJob& loaded, const Catalogue& catalogue, Complaints& complaints) {
  for (const CrossedLimits& c : crossed_limits(loaded.job, catalogue)) {
    const auto written = [&](double value, bool own) {
      return write_quantity(value, info(c.key).dimension, {}) +
             (own ? "" : " (the table of values)");
    };
    complaints.add(loaded.file,
                   {},
                   std::string(spoken(info(c.key).id)),
                   fmt::format("at least {} leaves no room below at most {}",
                               written(c.least, c.own_least),
                               written(c.most, c.own_most)));
  }
}

}  // namespace

int refuse(const Complaints& complaints) {
  const auto all = complaints.in_order();
  for (size_t i = 0; i < std::min(all.size(), kMostComplaints); ++i)
    fmt::print(stderr, "{}\n", to_string(all[i]));
  if (all.size() > kMostComplaints)
    fmt::print(stderr, "... and {} more\n", all.size() - kMostComplaints);
  return kBadInput;
}

std::optional<Loaded> load(const Options& options, Draft draft, Complaints& complaints) {
  const std::string data = data_folder();
  Loaded loaded;
  for (const std::string& file : options.jobs) {
    auto job = read_job(file, data, options.overrides, draft, complaints);
    if (job) loaded.jobs.push_back(std::move(*job));
  }
  auto catalogue = read_catalogue(data, complaints);
  if (!catalogue || !complaints.empty()) return std::nullopt;
  for (const LoadedJob& job : loaded.jobs) check_limits(job, *catalogue, complaints);
  if (!complaints.empty()) return std::nullopt;
  loaded.catalogue = std::move(*catalogue);
  return loaded;
}

int deliver(const std::vector<Wanted>& files, const std::string& text, int code) {
  Complaints complaints;
  for (const Wanted& file : files) {
    const std::string why = write_file(file.path, file.bytes);
    if (!why.empty()) complaints.add(file.path, {}, "", why);
  }
  if (!complaints.empty()) return refuse(complaints);
  fmt::print("{}", text);
  if (std::fflush(stdout) != 0) {
    fmt::print(stderr, "easewright: standard output can't be written\n");
    return kBadInput;
  }
  return code;
}

}  // namespace easewright
