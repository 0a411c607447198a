#include "cli/commands/load.h"

#include "cli/read/allowances.h"
#include "cli/read/catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/write/file.h"
#include "cli/write/quantity.h"
#include "model/fit.h"

#include <algorithm>
#include <csignal>
#include <cstdio>

#include <fmt/format.h>

namespace easewright {
namespace {

/// A file of garbage can earn a complaint a line; past this many nobody reads on.
constexpr size_t kMostComplaints = 100;

/// Limits of a value that cross, told once all of a job is known: they may hang on the body.
void check_limits(const LoadedJob& loaded, const Catalogue& catalogue, Complaints& complaints) {
  for (const CrossedLimits& c : crossed_limits(loaded.job, catalogue))
    complaints.add(loaded.file, {}, spoken(info(c.key).id), words_of(c));
}

}  // namespace

std::string words_of(const CrossedLimits& c) {
  const auto written = [&](double value, bool own) {
    return write_quantity(value, info(c.key).dimension, {}) + (own ? "" : " (the table of values)");
  };
  return fmt::format("at least {} leaves no room below at most {}",
                     written(c.least, c.own_least),
                     written(c.most, c.own_most));
}

int refuse(const Complaints& complaints) {
  // fputs, since fmt::print throws where standard error can't be written: the exit code still
  // tells.
  const auto all = complaints.in_order();
  for (size_t i = 0; i < std::min(all.size(), kMostComplaints); ++i)
    std::fputs((to_string(all[i]) + "\n").c_str(), stderr);
  if (all.size() > kMostComplaints)
    std::fputs(fmt::format("... and {} more\n", all.size() - kMostComplaints).c_str(), stderr);
  return kBadInput;
}

std::optional<Loaded> load(const Options& options,
                           Draft draft,
                           Complaints& complaints,
                           Wearer wearer) {
  const std::string data = data_folder();
  Loaded loaded;
  for (const std::string& file : options.jobs) {
    auto job = read_job(file, data, options.overrides, draft, complaints, wearer);
    if (job) loaded.jobs.push_back(std::move(*job));
  }
  auto catalogue = read_catalogue(data, complaints);
  if (!catalogue || !complaints.empty()) return std::nullopt;
  // Of a group, each body's own are looked at when it is its turn.
  if (wearer == Wearer::required)
    for (const LoadedJob& job : loaded.jobs) check_limits(job, *catalogue, complaints);
  if (!complaints.empty()) return std::nullopt;
  loaded.catalogue = std::move(*catalogue);
  return loaded;
}

Allowances allowances_of(const LoadedJob& job, Complaints& complaints) {
  if (!job.allowances || job.allowances->kind == YamlNode::Kind::null) return {};
  return read_allowances(
      *job.allowances, "allowances", {job.file, complaints}, job.job.style.switches);
}

int deliver(const std::vector<Wanted>& files, const std::string& report, int code) {
  // A reader that goes away must not end the program with files half done.
  std::signal(SIGPIPE, SIG_IGN);
  Complaints complaints;
  const auto complain = [&complaints](const std::string& file, const std::string& why) {
    if (!why.empty()) complaints.add(file, {}, "", why);
  };
  std::vector<StagedFile> staged(files.size());
  const std::string* out = &report;
  for (size_t i = 0; i < files.size(); ++i) {
    if (files[i].path == "-") {
      out = &files[i].bytes;
    } else {
      complain(files[i].path, staged[i].write(files[i].path, files[i].bytes));
    }
  }
  if (complaints.empty()) complain("standard output", write_out(*out));
  for (size_t i = 0; i < files.size(); ++i) {
    if (complaints.empty() && files[i].path != "-") complain(files[i].path, staged[i].keep());
  }
  return complaints.empty() ? code : refuse(complaints);
}

}  // namespace easewright
