#pragma once
// A style: which parts a garment has, which of its values are free, and the wishes that make it
// that style.

#include "model/garment/values.h"
#include "model/rules/expression.h"
#include "solver/problem.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

// clang-format off
// EASEWRIGHT_SWITCHES(X): X(id, "option|option|...", definition); the first option is the default.
#define EASEWRIGHT_SWITCHES(X)                                                                                       \
  X(put_on, "over the head|stepped into|side opening", "how the garment is put on; the solver tries each that the style allows") \
  X(neckline, "V|round|square", "shape of the front neckline")                                                       \
  X(lining, "lined|unlined", "whether the bodice has a full lining")                                                 \
  X(waist, "elastic|seam", "casing with an elastic, or a plain waist seam (needs an opening)")                       \
  X(skirt, "wrapped|closed|none", "two overlapping front panels, one closed front, or a top without a skirt")         \
  X(slit, "free|sewn", "whether the overlapped fronts hang free from the waist or are sewn down to the slit's start") \
  X(side_dart, "none|sewn", "whether a dart may be sewn in the side seam")                                           \
  X(stay, "taped|none", "whether the front neckline is stayed with tape")                                            \
  X(centre_back, "fold|seam", "back bodice cut on the fold or with a centre seam")                                   \
  X(underwear, "full|light|none", "what the armhole and the neckline have to hide")                                  \
  X(belt, "tied|none", "tie belt")                                                                                   \
  X(waist_edge, "overlocked|turned", "how the raw edge of the casing is finished")                                   \
  X(build, "woman|man|child", "build of the body; set from the body file")
// clang-format on

enum class Switch {
#define EASEWRIGHT_X(id, ...) id,
  EASEWRIGHT_SWITCHES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kSwitches = static_cast<int>(Switch::count);

struct SwitchInfo {
  std::string_view id;  ///< 'side_dart'; spoken in files: 'side dart'
  std::vector<std::string> options;
  std::string_view definition;
};
const SwitchInfo& info(Switch which);
std::optional<Switch> find_switch(std::string_view name);  ///< by id or spoken name

/// One option index a switch.
struct Switches {
  std::array<int, kSwitches> at{};
  const std::string& operator[](Switch which) const {
    return info(which).options[static_cast<size_t>(at[static_cast<size_t>(which)])];
  }
  /// False when the switch has no such option.
  bool set(Switch which, std::string_view option);
  bool is(Switch which, std::string_view option) const { return (*this)[which] == option; }
};

/// One condition of a rule: the switch stands at one of these options.
struct Condition {
  Switch which = Switch::put_on;
  std::vector<std::string> options;
  bool holds(const Switches& switches) const;
};

/// How a draft value is set where the style says nothing else. Expressions of body and cloth alone.
struct ValueDefault {
  Expression habit;  ///< where the cutter starts
  Expression least;
  Expression most;
  double scale = 1;             ///< a change that matters, cm or rad
  std::vector<Condition> when;  ///< the garment has this value only where these hold
};

/// A wish for a draft value or a measure: lo <= it <= hi.
struct Wish {
  std::string id;  ///< 'neckline.depth'
  std::optional<Expression> lo;
  std::optional<Expression> hi;
  double tolerance = 0.5;
  solver::Level strength = solver::Level::wish;
  std::string where;  ///< file and line, or 'command line'
};

struct ValueOverride {
  ValueKey key = ValueKey::count;
  std::optional<Expression> habit, least, most;
  bool fixed = false;  ///< stays at its habit
};

struct Style {
  std::string label;
  std::string description;
  Switches switches;
  std::vector<int> put_on;  ///< options of Switch::put_on to try, in order of preference
  std::vector<ValueOverride> overrides;
  std::vector<Wish> wishes;
};

}  // namespace easewright
