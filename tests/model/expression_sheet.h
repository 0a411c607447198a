#pragma once
// Figures under the names that expressions use, so that one line of text is an expression of ours
// and of C++; and a sheet that holds them.

#include "model/body/measures.h"
#include "model/cloth.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/rules/expression.h"
#include "model/rules/expression_evaluate.h"
#include "tests/catch.h"

#include <array>
#include <string>

namespace easewright::tests {

struct BodyFigures {
  double bust_girth = 92, waist_girth = 74, hip_girth = 98.25, head_girth = 56.5,
         shoulder_slope = 0.3;
};
inline constexpr BodyFigures body;
struct ClothFigures {
  double width = 140, stretch = 0.25;
};
inline constexpr ClothFigures cloth;
struct NecklineFigures {
  double depth = 9.75, edge = 61.5;
};
inline constexpr NecklineFigures neckline;
struct ArmholeFigures {
  double girth = 46.2, ease = 2.75;
};
inline constexpr ArmholeFigures armhole;

template <typename T>
struct Sheet {
  std::array<T, kValueKeys> values{};
  std::array<T, kMeasureKeys> measures{};
  std::array<double, kBodyKeys> bodies{};
  std::array<double, kClothFacts> cloths{};

  Sheet() {
    const auto at = [](auto key) { return static_cast<size_t>(key); };
    bodies[at(BodyKey::bust_girth)] = body.bust_girth;
    bodies[at(BodyKey::waist_girth)] = body.waist_girth;
    bodies[at(BodyKey::hip_girth)] = body.hip_girth;
    bodies[at(BodyKey::head_girth)] = body.head_girth;
    bodies[at(BodyKey::shoulder_slope)] = body.shoulder_slope;
    for (size_t i = 0; i < kClothFacts; ++i) {
      if (cloth_fact(static_cast<int>(i)).id == "width") cloths[i] = cloth.width;
      if (cloth_fact(static_cast<int>(i)).id == "stretch") cloths[i] = cloth.stretch;
    }
    values[at(ValueKey::neckline_depth)] = T(neckline.depth);
    measures[at(MeasureKey::neckline_edge)] = T(neckline.edge);
    measures[at(MeasureKey::armhole_girth)] = T(armhole.girth);
    measures[at(MeasureKey::armhole_ease)] = T(armhole.ease);
  }
  Facts<T> facts() const { return {values.data(), measures.data(), bodies.data(), cloths.data()}; }
};

inline Expression parsed(const std::string& text) {
  ExpressionError error;
  const auto expression = Expression::parse(text, &error);
  INFO(text << ": column " << error.column << ": " << error.message);
  REQUIRE(expression);
  return *expression;
}

inline double value_of(const std::string& text) {
  return parsed(text).evaluate(Sheet<double>().facts());
}

}  // namespace easewright::tests
