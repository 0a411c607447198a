#pragma once
// A problem: intervals over a smooth function, in levels.
//
//     find  x  with  lower <= x <= upper,
//     so that  lo_i <= g_i(x) <= hi_i  for every output i,
//
// or, where that can't be, so that the misses d_i = dist(g_i(x), [lo_i, hi_i]) / t_i are least, level
// by level: no miss of a lower level is ever bought down at a higher level's cost. Within a level an
// *absolute* output adds |d_i| (few outputs break), a *squared* one adds d_i^2 / 2 (misses are shared).
// t_i is the output's tolerance: the size of a miss that is felt. Units are the caller's.

#include <limits>
#include <memory>
#include <string>
#include <vector>

namespace easewright::solver {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// Levels in the order in which they are settled.
enum class Level { must, should, wish, habit };
inline constexpr int kLevels = 4;

/// How the misses of an output add up within its level.
enum class Shape { absolute, squared };

struct Variable {
  std::string name;
  double lower = -kInfinity;
  double upper = kInfinity;
  double scale = 1;  ///< a change of x that matters, > 0; steps are measured in it
  double start = 0;  ///< where the search begins; inside the bounds
};

struct Output {
  std::string name;
  double lo = -kInfinity;
  double hi = kInfinity;
  double tolerance = 1;  ///< > 0
  Level level = Level::must;
  Shape shape = Shape::absolute;
};

/// g(x) with its Jacobian. Const and safe to call from several threads at once.
class Function {
 public:
  virtual ~Function() = default;
  /// x: n values; g: m values out; jacobian: m x n, row major, out, or null where only values are wanted.
  virtual void evaluate(const double* x, double* g, double* jacobian) const = 0;
  /// The same with some columns of the Jacobian alone, ascending: m x columns.size(). Offered where
  /// a column is dear and mostly few variables are free; false, with nothing done, where it isn't.
  virtual bool evaluate_columns(const double* /*x*/,
                                const std::vector<int>& /*columns*/,
                                double* /*g*/,
                                double* /*jacobian*/) const {
    return false;
  }
};

struct Problem {
  std::vector<Variable> variables;
  std::vector<Output> outputs;
  std::shared_ptr<const Function> function;

  int n() const { return static_cast<int>(variables.size()); }
  int m() const { return static_cast<int>(outputs.size()); }
};

}  // namespace easewright::solver
