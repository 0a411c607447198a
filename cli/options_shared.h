#pragma once
// What several commands of the command line share, and the commands that are defined elsewhere than
// in options.cc.

#include "cli/options.h"

#include <string>

#include <CLI/CLI.hpp>

namespace easewright {

/// The exit codes, at the foot of every --help.
extern const char* const kFooter;

/// How many bodies a command is about.
enum class HowMany { one, many };

/// --wish, --limit, --switch, --style, --cloth, --units, and of one body --body.
void add_what_if(CLI::App& command,
                 Options& options,
                 std::string& units,
                 HowMany bodies = HowMany::one);

/// --json, of all that the report holds.
void add_json(CLI::App& command, Options& options);

/// `easewright group` and `easewright sizes`: options_group.cc.
CLI::App* add_group(CLI::App& app, Options& options, std::string& units);
CLI::App* add_sizes(CLI::App& app, Options& options, std::string& units);

}  // namespace easewright
