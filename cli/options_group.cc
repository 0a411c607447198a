#include "cli/options_shared.h"

#include <cstdint>
#include <string>
#include <utility>

#include <fmt/format.h>

namespace easewright {
namespace {

/// More patterns than anybody keeps.
constexpr int kMostSizes = 100;

/// '12-40', '12-' or '12': rows of a group, both in it.
std::pair<std::uint32_t, std::uint32_t> rows_named(const std::string& text) {
  constexpr std::uint32_t kMost = 1000000000;
  const size_t dash = text.find('-');
  const auto number = [&](const std::string& digits) -> std::uint32_t {
    const bool plain = !digits.empty() && digits.size() <= 9 &&
                       digits.find_first_not_of("0123456789") == std::string::npos;
    const auto value = plain ? static_cast<std::uint32_t>(std::stoul(digits)) : 0;
    if (value == 0) throw CLI::ValidationError("--rows", "a range like 1-500 is wanted, from 1");
    return value;
  };
  const std::uint32_t first = number(text.substr(0, dash));
  const std::uint32_t last = dash == std::string::npos ? first
                             : dash + 1 == text.size() ? kMost
                                                       : number(text.substr(dash + 1));
  if (last < first) throw CLI::ValidationError("--rows", "the first row comes before the last");
  return {first, last};
}

/// A job, many bodies, and which of them.
void add_bodies(CLI::App& command, Options& options) {
  command
      .add_option_function<std::string>(
          "JOB",
          [&options](const std::string& file) { options.jobs = {file}; },
          "a job file (YAML); its body does not count")
      ->required()
      ->type_name("");
  command
      .add_option("BODIES",
                  options.bodies,
                  "a table of bodies (CSV, a row a body), or a folder of body files")
      ->required()
      ->type_name("");
  command
      .add_option_function<std::string>(
          "--rows",
          [&options](const std::string& text) { options.body_rows = rows_named(text); },
          "these bodies alone, from 1: '1-500'")
      ->type_name("A-B");
  command
      .add_option("--same",
                  options.same,
                  "what all rows of the table share: 'waist level natural', 'lengths cm', 'build "
                  "woman', 'shoulder slope read from bone'")
      ->allow_extra_args(false)
      ->type_name("WHAT");
  command.add_option("--threads", options.threads, "how many at most (all that there are)")
      ->check(CLI::Range(1, 1024))
      ->type_name("COUNT");
}

/// Written so that what is no number is refused as well.
double minutes_within(const char* option, double minutes, double least, double most) {
  if (!(minutes >= least && minutes <= most)) {
    throw CLI::ValidationError(option, fmt::format("{} to {} minutes are wanted", least, most));
  }
  return minutes;
}

}  // namespace

CLI::App* add_group(CLI::App& app, Options& options, std::string& units) {
  CLI::App* group = app.add_subcommand(
      "group", "draft one job for many bodies, and say how its style does over all of them");
  add_what_if(*group, options, units, HowMany::many);
  add_bodies(*group, options);
  group
      ->add_option("--out",
                   options.out,
                   "the folder to write rows and summary into; the same command goes on where an "
                   "earlier one was stopped")
      ->type_name("DIR");
  group
      ->add_option(
          "--json",
          options.json,
          "write the summary as JSON to this file ('-': to standard output, and no report)")
      ->type_name("FILE");
  group->add_flag_callback(
      "--brief", [&options] { options.length = Length::brief; }, "one line");
  group->add_flag_callback(
      "--no-why",
      [&options] { options.why = Why::skipped; },
      "don't look for what would settle a miss: much faster");
  group->add_flag_callback(
      "--sewing",
      [&options] { options.sewing = true; },
      "what all of them take, cut from one piece: cloth, elastic, belts; with --out the cutting "
      "plan and a cut list by body as well");
  group->footer(kFooter);
  return group;
}

CLI::App* add_sizes(CLI::App& app, Options& options, std::string& units) {
  CLI::App* sizes = app.add_subcommand(
      "sizes", "whose drafts to cut so that most of many bodies are served with least alteration");
  add_what_if(*sizes, options, units, HowMany::many);
  add_bodies(*sizes, options);
  sizes->add_option("--count", options.count, "how many drafts (4)")
      ->check(CLI::Range(1, kMostSizes))
      ->type_name("COUNT");
  sizes
      ->add_option_function<double>(
          "--worth",
          [&options](double minutes) {
            options.worth_minutes = minutes_within("--worth", minutes, 1, 600);
          },
          "minutes of work that one tolerance of a missed should is worth (40)")
      ->type_name("MINUTES");
  sizes
      ->add_option_function<double>(
          "--own",
          [&options](double minutes) {
            options.own_minutes = minutes_within("--own", minutes, 10, 10000);
          },
          "minutes that a garment of one's own takes, past which nobody alters (600)")
      ->type_name("MINUTES");
  add_json(*sizes, options);
  sizes->add_flag_callback(
      "--all",
      [&options] { options.length = Length::all; },
      "of more than 40 bodies, too, tell each one's moves");
  sizes->footer(kFooter);
  return sizes;
}

}  // namespace easewright
