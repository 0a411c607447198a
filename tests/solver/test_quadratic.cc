// The quadratic programme against its own optimality conditions. The problem is convex, so a point
// with pulls that meet them is the answer, whoever found it (Rockafellar, Convex Analysis, section
// 28); small ones are also compared with a search that knows nothing of pulls.

#include "solver/quadratic.h"
#include "tests/catch.h"

#include <cmath>
#include <random>

#include <Eigen/Dense>

using namespace easewright::solver;

namespace {

constexpr unsigned kSeed = 20240611;
constexpr double kInf = std::numeric_limits<double>::infinity();

struct Sample {
  int n = 0, rows = 0;
  Eigen::MatrixXd h, a;  // a: one row a line
  Eigen::VectorXd g, lo, hi, weight, stiffness, lower, upper;

  double sum(const Eigen::VectorXd& d) const {
    double s = 0.5 * d.dot(h * d) + g.dot(d);
    for (int i = 0; i < rows; ++i) {
      const double v = a.row(i).dot(d);
      const double miss = std::max({lo[i] - v, v - hi[i], 0.0});
      s += stiffness[i] > 0 ? 0.5 * stiffness[i] * miss * miss : weight[i] * miss;
    }
    return s;
  }
};

/// Owns the arrays that QuadraticData points into.
struct Posed {
  explicit Posed(const Sample& s)
      : row_major(s.a), norm(s.rows), live(static_cast<std::size_t>(s.rows)) {
    for (int i = 0; i < s.rows; ++i) {
      norm[i] = s.a.row(i).norm();
      live[static_cast<std::size_t>(i)] = i;
    }
    data.n = s.n;
    data.rows = s.rows;
    data.hessian = s.h.data();
    data.gradient = s.g.data();
    data.a = row_major.data();
    data.stride = s.n;
    data.lo = s.lo.data();
    data.hi = s.hi.data();
    data.weight = s.weight.data();
    data.stiffness = s.stiffness.data();
    data.norm = norm.data();
    data.live = live.data();
    data.live_count = s.rows;
    data.lower = s.lower.data();
    data.upper = s.upper.data();
  }
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> row_major;
  Eigen::VectorXd norm;
  std::vector<int> live;
  QuadraticData data;
};

Sample random_sample(std::mt19937& random, int n, int rows) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  Sample s;
  s.n = n;
  s.rows = rows;
  Eigen::MatrixXd root(n, n);
  for (double& v : root.reshaped()) v = normal(random);
  s.h = root * root.transpose() + 0.01 * Eigen::MatrixXd::Identity(n, n);
  s.a.resize(rows, n);
  for (double& v : s.a.reshaped()) v = uniform(random) < 0.3 ? 0.0 : normal(random);
  // Dependent and repeated rows are the ordinary case, not the exception.
  for (int i = 3; i < rows; i += 4)
    s.a.row(i) = s.a.row(i - 1) - (uniform(random) < 0.5 ? 0.0 : 1.0) * s.a.row(i - 2);
  s.g = Eigen::VectorXd::Zero(n).unaryExpr([&](double) { return 3 * normal(random); });
  s.lo.resize(rows);
  s.hi.resize(rows);
  s.weight.resize(rows);
  s.stiffness = Eigen::VectorXd::Zero(rows);
  for (int i = 0; i < rows; ++i) {
    s.lo[i] = normal(random);
    const double kind = uniform(random);
    s.hi[i] = kind < 0.3 ? s.lo[i] : kind < 0.6 ? kInf : s.lo[i] + uniform(random);
    if (uniform(random) < 0.2) s.lo[i] = -kInf;
    s.weight[i] = std::pow(10.0, std::floor(5 * uniform(random)) - 1);
    if (uniform(random) < 0.2) s.stiffness[i] = std::pow(10.0, std::floor(4 * uniform(random)) - 1);
  }
  s.lower = Eigen::VectorXd::Constant(n, -2);
  s.upper = Eigen::VectorXd::Constant(n, 2);
  for (int j = 0; j < n; ++j) {
    if (uniform(random) < 0.2) s.lower[j] = 0;
    if (uniform(random) < 0.2) s.upper[j] = kInf;
  }
  return s;
}

void check_optimal(const Sample& s, const Quadratic& q) {
  const Eigen::VectorXd d = Eigen::Map<const Eigen::VectorXd>(q.step().data(), s.n);
  Eigen::VectorXd gradient = s.h * d + s.g;
  const double size = 1 + gradient.lpNorm<Eigen::Infinity>();
  double most = 1;
  for (int i = 0; i < s.rows; ++i) {
    const double pull = q.pull()[static_cast<std::size_t>(i)];
    const double v = s.a.row(i).dot(d);
    most = std::max(most, std::abs(pull));
    gradient -= pull * s.a.row(i).transpose();
    const double below = s.lo[i] - v;
    const double above = v - s.hi[i];
    INFO("row " << i << " value " << v << " in [" << s.lo[i] << ", " << s.hi[i] << "] pull " << pull
                << " weight " << s.weight[i]);
    if (s.stiffness[i] > 0) {
      const double due = s.stiffness[i] * (std::max(below, 0.0) - std::max(above, 0.0));
      CHECK_THAT(pull, WithinAbs(due, 1e-7 * (1 + std::abs(due) + s.stiffness[i])));
      continue;
    }
    CHECK(std::abs(pull) <= s.weight[i] * (1 + 1e-12));
    constexpr double near = 1e-8;
    if (below > near) CHECK_THAT(pull, WithinRel(s.weight[i], 1e-12));
    if (above > near) CHECK_THAT(pull, WithinRel(-s.weight[i], 1e-12));
    if (below < -near && above < -near) CHECK(pull == 0);
    if (pull > 0) CHECK(below > -near);
    if (pull < 0) CHECK(above > -near);
  }
  for (int j = 0; j < s.n; ++j) {
    const double pull = q.box_pull()[static_cast<std::size_t>(j)];
    gradient[j] -= pull;
    CHECK(d[j] >= s.lower[j] - 1e-9);
    CHECK(d[j] <= s.upper[j] + 1e-9);
    if (pull > 0) CHECK_THAT(d[j], WithinAbs(s.lower[j], 1e-8));
    if (pull < 0) CHECK_THAT(d[j], WithinAbs(s.upper[j], 1e-8));
  }
  CHECK(gradient.lpNorm<Eigen::Infinity>() <= 1e-9 * (size + most));
}

}  // namespace

TEST_CASE("random programmes meet their optimality conditions") {
  std::mt19937 random(kSeed);
  for (int round = 0; round < 400; ++round) {
    const int n = 1 + round % 12;
    const int rows = round % 31;
    INFO("seed " << kSeed << ", round " << round << ", n " << n << ", rows " << rows);
    const Sample s = random_sample(random, n, rows);
    const Posed posed(s);
    Quadratic q(n, rows, rows);
    REQUIRE(q.solve(posed.data));
    check_optimal(s, q);
  }
}

TEST_CASE("no point of a fine search is better than the answer") {
  std::mt19937 random(kSeed + 1);
  std::normal_distribution<double> normal;
  for (int round = 0; round < 60; ++round) {
    INFO("seed " << kSeed + 1 << ", round " << round);
    const Sample s = random_sample(random, 2, 6);
    const Posed posed(s);
    Quadratic q(2, 6, 6);
    REQUIRE(q.solve(posed.data));
    const double found = s.sum(Eigen::Map<const Eigen::VectorXd>(q.step().data(), 2));
    double best = kInf;
    for (double x = s.lower[0]; x <= std::min(s.upper[0], 30.0) + 1e-9; x += 0.05) {
      for (double y = s.lower[1]; y <= std::min(s.upper[1], 30.0) + 1e-9; y += 0.05) {
        best = std::min(best, s.sum(Eigen::Vector2d(x, y)));
      }
    }
    CHECK(found <= best + 1e-9 * (1 + std::abs(best)));
  }
}

TEST_CASE("a warm start from another programme's working set gives the same answer") {
  std::mt19937 random(kSeed + 2);
  std::normal_distribution<double> normal;
  for (int round = 0; round < 200; ++round) {
    INFO("seed " << kSeed + 2 << ", round " << round);
    const int n = 2 + round % 9;
    const int rows = 3 + round % 20;
    Sample s = random_sample(random, n, rows);
    Quadratic q(n, rows, rows);
    REQUIRE(q.solve(Posed(s).data));
    // Shifts, other weights, and every so often a wholly different programme.
    if (round % 5 == 0) s = random_sample(random, n, rows);
    for (int i = 0; i < rows; ++i) {
      const double shift = 0.3 * normal(random);
      s.lo[i] += shift;
      s.hi[i] += shift;
      s.weight[i] *= std::exp(normal(random));
    }
    REQUIRE(q.solve(Posed(s).data));
    check_optimal(s, q);
  }
}

TEST_CASE("a warm start at the answer changes nothing") {
  std::mt19937 random(kSeed + 3);
  for (int round = 0; round < 50; ++round) {
    const Sample s = random_sample(random, 8, 20);
    const Posed posed(s);
    Quadratic q(8, 20, 20);
    REQUIRE(q.solve(posed.data));
    const std::vector<double> first = q.step();
    REQUIRE(q.solve(posed.data));
    INFO("seed " << kSeed + 3 << ", round " << round);
    CHECK(q.changes() == 0);
    for (std::size_t j = 0; j < first.size(); ++j)
      CHECK_THAT(q.step()[j], WithinAbs(first[j], 1e-9));
  }
}

TEST_CASE("without rows the answer is the least of the quadratic in its box") {
  Sample s;
  s.n = 2;
  s.h = Eigen::Matrix2d{{2, 0}, {0, 4}};
  s.a.resize(0, 2);
  s.g = Eigen::Vector2d(-2, -40);
  s.lower = Eigen::Vector2d(-3, -3);
  s.upper = Eigen::Vector2d(3, 3);
  Quadratic q(2, 0, 0);
  REQUIRE(q.solve(Posed(s).data));
  CHECK_THAT(q.step()[0], WithinAbs(1, 1e-14));
  CHECK_THAT(q.step()[1], WithinAbs(3, 1e-14));
  CHECK_THAT(q.box_pull()[1], WithinAbs(4 * 3 - 40, 1e-12));
}

TEST_CASE("of two rows that can't both hold the lighter one breaks") {
  // d >= 1 with weight 10, d <= 0 with weight 3: d = 1, and the lighter pulls with all it has.
  Sample s;
  s.n = 1;
  s.rows = 2;
  s.h = Eigen::MatrixXd::Constant(1, 1, 1e-6);
  s.a = Eigen::MatrixXd::Ones(2, 1);
  s.g = Eigen::VectorXd::Zero(1);
  s.lo = Eigen::Vector2d(1, -kInf);
  s.hi = Eigen::Vector2d(kInf, 0);
  s.weight = Eigen::Vector2d(10, 3);
  s.stiffness = Eigen::Vector2d::Zero();
  s.lower = Eigen::VectorXd::Constant(1, -5);
  s.upper = Eigen::VectorXd::Constant(1, 5);
  Quadratic q(1, 2, 0);
  REQUIRE(q.solve(Posed(s).data));
  CHECK_THAT(q.step()[0], WithinAbs(1, 1e-12));
  CHECK(q.states()[0] == RowState::on_lower);
  CHECK(q.states()[1] == RowState::full_upper);
  CHECK(q.pull()[1] == -3);
  CHECK_THAT(q.pull()[0], WithinAbs(3, 1e-5));
}

TEST_CASE("a hessian that is not positive definite is refused with no step") {
  Sample s;
  s.n = 2;
  s.h = Eigen::Matrix2d{{1, 2}, {2, 1}};
  s.a.resize(0, 2);
  s.g = Eigen::Vector2d(1, 1);
  s.lower = Eigen::Vector2d(-1, -1);
  s.upper = Eigen::Vector2d(1, 1);
  Quadratic q(2, 0, 0);
  CHECK_FALSE(q.solve(Posed(s).data));
  CHECK(q.step() == std::vector<double>{0, 0});
}
