#include "cli/options_shared.h"

namespace easewright {

const char* const kFooter =
    "Exit codes:\n"
    "  0  every must and every should holds, or after the first plan of alter; sizes: "
    "nobody needs a garment of their own; reach, map and list: answered\n"
    "  1  a must or a should is missed\n"
    "  2  bad input: a file or the command line is wrong, or a file can't be written; nothing is "
    "written (group, sizes: a body can't be drafted for, all others are)\n"
    "  3  an internal error\n";

void add_what_if(CLI::App& command, Options& options, std::string& units, HowMany bodies) {
  Overrides& o = options.overrides;
  const auto one_each = [](CLI::Option* option) {
    option->allow_extra_args(false)->group("What if");
  };
  one_each(
      command
          .add_option("--wish", o.wishes, "a wish, in place of the job's: 'neckline depth 20 cm'")
          ->type_name("WISH"));
  one_each(command
               .add_option(
                   "--limit", o.limits, "how far a draft value may go: 'armhole drop at most 7 cm'")
               ->type_name("LIMIT"));
  if (bodies == HowMany::one)
    one_each(command
                 .add_option(
                     "--body", o.measures, "a measure, in place of the body's: 'bust girth 94 cm'")
                 ->type_name("MEASURE"));
  one_each(
      command
          .add_option("--switch", o.switches, "a switch, in place of the style's: 'side dart sewn'")
          ->type_name("SWITCH"));
  command.add_option("--style", o.style, "another style: a name or a path")
      ->group("What if")
      ->type_name("STYLE");
  command.add_option("--cloth", o.cloth, "another cloth: a name or a path")
      ->group("What if")
      ->type_name("CLOTH");
  command.add_option("--units", units, "cm or in, for the report")
      ->check(CLI::IsMember({"cm", "in"}))
      ->type_name("UNIT");
}

void add_json(CLI::App& command, Options& options) {
  command
      .add_option("--json",
                  options.json,
                  "write everything as JSON to this file ('-': to standard output, and no report)")
      ->type_name("FILE");
}

}  // namespace easewright
