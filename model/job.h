#pragma once
// A job: a body, a cloth, a style, wishes; and the catalogue that every job is read against.

#include "model/body/body.h"
#include "model/body/estimate.h"
#include "model/cloth.h"
#include "model/rules/rule.h"
#include "model/style.h"

#include <array>
#include <string>
#include <utility>
#include <vector>

namespace easewright {

/// What the data files hold.
struct Catalogue {
  std::vector<Rule> rules;
  std::array<ValueDefault, kValueKeys> values;
  BodyTables bodies;
  std::vector<Style> styles;
  std::vector<Cloth> cloths;
};

enum class LengthUnit { cm, inch };

struct Job {
  std::string label;
  Body body;
  Cloth cloth;
  Style style;
  std::vector<Wish> wishes;  ///< the job's own, after the style's; a later one for the same id wins
  std::vector<std::pair<ValueKey, double>>
      draft;                         ///< for `check`: given draft values, inside units
  LengthUnit unit = LengthUnit::cm;  ///< what reports are written in
};

}  // namespace easewright
