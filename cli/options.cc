#include "cli/options.h"

#include "cli/draw/lettering.h"
#include "cli/options_shared.h"
#include "cli/read/nearest.h"
#include "cli/write/file.h"
#include "cli/write/page.h"

#include <algorithm>
#include <cstdio>
#include <utility>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

namespace easewright {
namespace {

const std::vector<std::string> kCommands = {
    "fit", "check", "reach", "map", "cut", "slip", "figure", "alter", "group", "sizes", "list"};

constexpr const char* kAbout =
    "Computes the numbers that a garment is cut by, from a body's measures, a cloth, a style and "
    "wishes.\n";

/// The finest map: 240 x 240 cells are 25 times the usual one.
constexpr int kMostCells = 240;
/// Nobody weighs more against each other.
constexpr int kMostPlans = 9;
/// What a label has room for, in characters.
constexpr size_t kMostDate = 40;

draw::Paper paper_named(const std::string& word) {
  const auto found = std::find(draw::kPaperWords.begin(), draw::kPaperWords.end(), word);
  return static_cast<draw::Paper>(found - draw::kPaperWords.begin());
}

void add_html(CLI::App& command, Options& options) {
  command
      .add_option("--html", options.html, "write everything as one HTML file to read and to print")
      ->type_name("FILE");
}

CLI::App* add_command(
    CLI::App& app, const char* name, const char* about, Options& options, std::string& units) {
  CLI::App* command = app.add_subcommand(name, about);
  add_what_if(*command, options, units);
  add_json(*command, options);
  command->footer(kFooter);
  return command;
}

/// One job, and not the values that follow it as well.
void add_one_job(CLI::App& command, Options& options) {
  command
      .add_option_function<std::string>(
          "JOB",
          [&options](const std::string& file) { options.jobs = {file}; },
          "a job file (YAML)")
      ->required()
      ->type_name("");
}

CLI::App* add_job_command(
    CLI::App& app, const char* name, const char* about, Options& options, std::string& units) {
  CLI::App* command = add_command(app, name, about, options, units);
  command->add_option("JOB", options.jobs, "job files (YAML)")->required()->type_name("");
  command->add_flag_callback(
      "--brief", [&options] { options.length = Length::brief; }, "one line a job");
  command->add_flag_callback(
      "--all", [&options] { options.length = Length::all; }, "say of every rule how sure it is");
  add_html(*command, options);
  return command;
}

CLI::App* add_fit(CLI::App& app, Options& options, std::string& units) {
  CLI::App* fit =
      add_job_command(app, "fit", "compute the draft values of one or more jobs", options, units);
  fit->add_flag_callback(
      "--no-why",
      [&options] { options.why = Why::skipped; },
      "don't look for why a rule is missed");
  fit->add_flag_callback(
      "--effects",
      [&options] { options.effects = Effects::told; },
      "say what 1 cm more of each wish does");
  fit->add_option_function<double>(
         "--sure",
         [&options](double percent) {
           // Written so that what is no number is refused as well.
           if (!(percent > 50 && percent < 100)) {
             throw CLI::ValidationError("--sure", "more than 50 and less than 100 is wanted");
           }
           options.sure = percent / 100;
         },
         "musts and shoulds are to hold with this probability, in per cent")
      ->type_name("PERCENT");
  return fit;
}

CLI::App* add_reach(CLI::App& app, Options& options, std::string& units) {
  CLI::App* reach = add_command(
      app, "reach", "how far each draft value can go, and what stops it", options, units);
  add_one_job(*reach, options);
  reach
      ->add_option("VALUE",
                   options.values,
                   "draft values: 'neckline depth' (default: wished and common ones)")
      ->type_name("");
  return reach;
}

CLI::App* add_map(CLI::App& app, Options& options, std::string& units) {
  CLI::App* map =
      add_command(app, "map", "what goes with what: two draft values over a grid", options, units);
  add_one_job(*map, options);
  map->add_option("VALUES",
                  options.values,
                  "two draft values, across and up, each as it is or with a range: 'neckline depth "
                  "4 to 20 cm'")
      ->required()
      ->expected(2)
      ->type_name("");
  map->add_option("--columns", options.columns, "cells across (48)")
      ->check(CLI::Range(2, kMostCells))
      ->type_name("COUNT");
  map->add_option("--rows", options.rows, "cells up (48)")
      ->check(CLI::Range(2, kMostCells))
      ->type_name("COUNT");
  map->add_option("--threads", options.threads, "how many at most (all that there are)")
      ->check(CLI::Range(1, 1024))
      ->type_name("COUNT");
  map->add_option("--csv", options.csv, "write one row a cell to this file, or '-'")
      ->type_name("FILE");
  map->add_option("--svg", options.svg, "draw the map into this file, or '-'")->type_name("FILE");
  return map;
}

CLI::App* add_slip(CLI::App& app, Options& options, std::string& units) {
  CLI::App* slip = add_command(
      app, "slip", "what a sewer needs at the machine, in order of work", options, units);
  add_one_job(*slip, options);
  slip->add_option("--out", options.slip, "write the slip to this file, and nothing here")
      ->type_name("FILE");
  return slip;
}

CLI::App* add_alter(CLI::App& app, Options& options, std::string& units) {
  CLI::App* alter = add_command(app,
                                "alter",
                                "plan the alteration of a garment in hand ('made:', 'faults:')",
                                options,
                                units);
  add_one_job(*alter, options);
  alter->add_option("--plans", options.plans, "how many plans at most (3)")
      ->check(CLI::Range(1, kMostPlans))
      ->type_name("COUNT");
  alter->add_flag_callback(
      "--all",
      [&options] { options.length = Length::all; },
      "tell every plan in full, and why a move is ruled out");
  add_html(*alter, options);
  return alter;
}

CLI::App* add_figure(CLI::App& app, Options& options, std::string& units) {
  CLI::App* figure =
      app.add_subcommand("figure", "draw the garment on the body: front, back and side, to scale");
  add_what_if(*figure, options, units);
  add_one_job(*figure, options);
  figure->add_option("--out", options.figure, "the file to draw into: FILE.svg, FILE.pdf or '-'")
      ->required()
      ->type_name("FILE");
  figure->add_option("--plan", options.figure_plan, "before and after this plan of alter")
      ->check(CLI::Range(1, kMostPlans))
      ->type_name("NUMBER");
  figure->footer(kFooter);
  return figure;
}

CLI::App* add_cut(CLI::App& app, Options& options, std::string& units) {
  CLI::App* cut = app.add_subcommand(
      "cut", "draw the pattern at true scale, and how its pieces lie on the cloth");
  add_what_if(*cut, options, units);
  cut->add_option(
         "JOB",
         options.jobs,
         "job files (YAML); of several each has a folder of its own, and the plan is of all")
      ->required()
      ->type_name("");
  cut->add_option("--out", options.out, "the folder to write into; what else it holds stays")
      ->required()
      ->check([](const std::string& name) {
        return name.empty() ? std::string("a folder's name is wanted") : std::string();
      })
      ->type_name("DIR");
  cut->add_option_function<std::string>(
         "--paper",
         [&options](const std::string& word) { options.paper = paper_named(word); },
         "'whole' is one large sheet (a4; letter in inches)")
      ->check(CLI::IsMember(
          std::vector<std::string>(draw::kPaperWords.begin(), draw::kPaperWords.end())))
      ->type_name("PAPER");
  cut->add_option_function<std::string>(
         "--lay",
         [&options](const std::string& word) {
           options.layering = word == "folded" ? Layering::folded : Layering::single;
         },
         "the cloth (folded; with nap, print, group: single)")
      ->check(CLI::IsMember({"folded", "single"}))
      ->type_name("LAYERS");
  cut->add_option_function<std::string>(
         "--width",
         [&options](const std::string& text) { options.overrides.cloth_width = text; },
         "the cloth's width, in place of the cloth file's: '150 cm'")
      ->type_name("LENGTH");
  cut->add_flag_callback(
      "--no-plan", [&options] { options.plan = Plan::left_out; }, "no cutting plan");
  add_json(*cut, options);
  cut->add_option_function<std::string>(
         "--date",
         [&options](const std::string& text) {
           if (text.empty() || columns(text) > kMostDate || draw::drawable(text) != text) {
             throw CLI::ValidationError(
                 "--date", fmt::format("1 to {} characters of one line are wanted", kMostDate));
           }
           options.date = text;
         },
         "a date or short note for every piece (none)")
      ->type_name("TEXT");
  cut->footer(kFooter);
  return cut;
}

/// What stands before '=' in '--json=x'.
std::string option_name(const std::string& argument) {
  return argument.substr(0, argument.find('='));
}

/// A mistyped command or option, with what was probably meant; empty when all are known.
std::string find_mistyped(const CLI::App& app, const std::vector<std::string>& arguments) {
  const CLI::App* command = nullptr;
  for (const std::string& argument : arguments) {
    if (argument == "--") break;
    if (argument.size() > 2 && argument.starts_with("--")) {
      const std::string name = option_name(argument);
      std::vector<std::string> known = {"--help"};
      if (command == nullptr) known.emplace_back("--version");
      for (const CLI::Option* option : (command != nullptr ? command : &app)->get_options()) {
        for (const std::string& word : option->get_lnames()) known.push_back("--" + word);
      }
      if (std::find(known.begin(), known.end(), name) != known.end()) continue;
      return fmt::format("there is no option '{}'{}", name, suggestion(name, known));
    }
    if (command != nullptr || argument.starts_with('-')) continue;
    if (std::find(kCommands.begin(), kCommands.end(), argument) == kCommands.end()) {
      return fmt::format(
          "there is no command '{}'{}; known are fit, check, reach, map, cut, "
          "slip, figure, alter, group, sizes and list",
          argument,
          suggestion(argument, kCommands));
    }
    command = app.get_subcommand(argument);
  }
  return {};
}

/// Two outputs that would go to one place, or one that would go over a job; empty when none does.
std::string find_clash(const Options& options) {
  const std::pair<const char*, const std::optional<std::string>&> outputs[] = {
      {"--json", options.json},
      {"--csv", options.csv},
      {"--svg", options.svg},
      {"--out", options.slip},
      {"--out", options.figure},
      {"--html", options.html}};
  for (const auto& [name, path] : outputs) {
    if (!path) continue;
    const std::string place = *path == "-" ? "standard output" : "'" + *path + "'";
    for (const auto& [earlier, other] : outputs) {
      if (earlier == name) break;
      if (other && same_file(*path, *other))
        return fmt::format("{} and {} would both be written to {}", earlier, name, place);
    }
    for (const std::string& job : options.jobs) {
      if (same_file(*path, job))
        return fmt::format("{} would be written over the job {}", name, place);
    }
    if (!options.bodies.empty() && !options.out.empty() &&
        (same_file(*path, options.out + "/rows.csv") ||
         same_file(*path, options.out + "/summary.html")))
      return fmt::format("{} would be written over what {} holds", name, options.out);
    if (!options.bodies.empty() && same_file(*path, options.bodies))
      return fmt::format("{} would be written over the bodies {}", name, place);
  }
  return {};
}

/// `text` with lines that are past 80 columns wrapped beside the words that they begin with.
std::string wrapped(const std::string& text) {
  Page page;
  for (size_t at = 0; at < text.size();) {
    const size_t end = std::min(text.find('\n', at), text.size());
    const std::string line = text.substr(at, end - at);
    at = end + 1;
    const size_t first = line.find_first_not_of(' ');
    const size_t blanks = first == std::string::npos ? first : line.find("  ", first);
    const size_t lead = blanks == std::string::npos ? 0 : line.find_first_not_of(' ', blanks);
    page.paragraph(line.substr(0, lead), line.substr(lead));
  }
  return page.text();
}

ParsedOptions wrong(const std::string& what) {
  std::fputs(fmt::format("easewright: {} (see easewright --help)\n", what).c_str(), stderr);
  return {std::nullopt, kBadInput};
}

/// Help or version, to standard output.
ParsedOptions told(const std::string& text) {
  const std::string why = write_out(text);
  return {std::nullopt, why.empty() ? kAllHolds : wrong("standard output " + why).exit_code};
}

}  // namespace

const std::vector<std::string>& listable() {
  static const std::vector<std::string> words = {"rules",
                                                 "measures",
                                                 "values",
                                                 "styles",
                                                 "cloths",
                                                 "switches",
                                                 "body",
                                                 "moves",
                                                 "changes",
                                                 "faults",
                                                 "flat"};
  return words;
}

ParsedOptions parse_options(int argc, char** argv) {
  Options options;
  std::string units;
  CLI::App app(kAbout, "easewright");
  app.set_version_flag("--version", "easewright 0.1.0");
  app.require_subcommand(1);
  app.footer(kFooter);
  CLI::App* fit = add_fit(app, options, units);
  CLI::App* check = add_job_command(
      app, "check", "judge the drafts that the jobs bring ('draft:')", options, units);
  CLI::App* reach = add_reach(app, options, units);
  CLI::App* map = add_map(app, options, units);
  CLI::App* slip = add_slip(app, options, units);
  CLI::App* alter = add_alter(app, options, units);
  CLI::App* figure = add_figure(app, options, units);
  CLI::App* cut = add_cut(app, options, units);
  CLI::App* group = add_group(app, options, units);
  CLI::App* sizes = add_sizes(app, options, units);
  CLI::App* list = app.add_subcommand("list", "list what rules, measures, values ... there are");
  list->add_option(
          "WHAT",
          options.listed,
          "rules, measures, values, styles, cloths, switches, body, moves, changes, faults or flat")
      ->required()
      ->type_name("");

  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.empty()) {
    std::fputs(wrapped(app.help()).c_str(), stderr);
    return {std::nullopt, kBadInput};
  }
  if (const std::string what = find_mistyped(app, arguments); !what.empty()) return wrong(what);
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return told(wrapped(app.help()));
  } catch (const CLI::CallForVersion&) {
    return told(app.version() + "\n");
  } catch (const CLI::ParseError& e) {
    return wrong(e.what());
  }
  if (list->parsed() &&
      std::find(listable().begin(), listable().end(), options.listed) == listable().end()) {
    return wrong(fmt::format("there is no list of '{}'{}; there are {}",
                             options.listed,
                             suggestion(options.listed, listable()),
                             fmt::join(listable(), ", ")));
  }
  if (const std::string clash = find_clash(options); !clash.empty()) return wrong(clash);
  const std::pair<CLI::App*, Command> commands[] = {{fit, Command::fit},
                                                    {check, Command::check},
                                                    {reach, Command::reach},
                                                    {map, Command::map},
                                                    {slip, Command::slip},
                                                    {alter, Command::alter},
                                                    {figure, Command::figure},
                                                    {cut, Command::cut},
                                                    {group, Command::group},
                                                    {sizes, Command::sizes},
                                                    {list, Command::list}};
  for (const auto& [command, is] : commands) {
    if (command->parsed()) options.command = is;
  }
  if (!units.empty()) options.overrides.unit = units == "in" ? LengthUnit::inch : LengthUnit::cm;
  return {options, kAllHolds};
}

}  // namespace easewright
