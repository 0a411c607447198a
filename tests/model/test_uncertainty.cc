// First order against sampling: 10,000 bodies drawn from the errors' distribution, each wearing the
// same cloth.
#include "model/alter/made.h"
#include "model/uncertainty.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <cmath>
#include <random>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace easewright::tests {
namespace {

constexpr int kSamples = 10000;

struct Sampled {
  std::vector<double> sd = std::vector<double>(kMeasureKeys, 0.0);
  std::vector<double> holds;  ///< share, a rule
};

Sampled sample(const Job& job, const FitResult& result) {
  const Posed& posed = *result.posed;
  const Made made = made_from(posed.frame, result.values);
  const auto covariance = error_covariance(job.body, posed.frame.body, shipped_catalogue().bodies);
  const Eigen::Map<const Eigen::MatrixXd> s(covariance.data(), kBodyKeys, kBodyKeys);
  const Eigen::LDLT<Eigen::MatrixXd> factor(s);
  REQUIRE(factor.vectorD().minCoeff() >
          -1e-8);  // a covariance: no direction has a negative variance
  const Eigen::VectorXd d = factor.vectorD().cwiseMax(0).cwiseSqrt();
  std::mt19937 generator(20261125);
  std::normal_distribution<double> normal;
  Sampled sampled;
  sampled.holds.assign(posed.rules.size(), 0.0);
  std::vector<double> sum(kMeasureKeys, 0.0), square(kMeasureKeys, 0.0);
  for (int k = 0; k < kSamples; ++k) {
    Eigen::VectorXd z(kBodyKeys);
    for (int i = 0; i < kBodyKeys; ++i) z[i] = d[i] * normal(generator);
    const Eigen::VectorXd unpermuted =
        factor.transpositionsP().transpose() * Eigen::VectorXd(factor.matrixL() * z);
    CompleteBody body = posed.frame.body;
    for (int i = 0; i < kBodyKeys; ++i) body.values[static_cast<size_t>(i)].value += unpermuted[i];
    const Frame frame = frame_of(body, posed.frame.cloth, posed.frame.switches);
    const Worn worn = wear(made, frame);
    const auto& m = worn.measures;
    for (size_t i = 0; i < kMeasureKeys; ++i) {
      sum[i] += m.at[i];
      square[i] += m.at[i] * m.at[i];
    }
    for (size_t i = 0; i < posed.rules.size(); ++i) {
      const PosedRule& rule = posed.rules[i];
      const double value = evaluate(rule.expression, frame, worn.values, m);
      const double room = granted(rule);
      const bool low = rule.lo && value < evaluate(*rule.lo, frame, worn.values, m) - room;
      const bool high = rule.hi && value > evaluate(*rule.hi, frame, worn.values, m) + room;
      sampled.holds[i] += low || high ? 0 : 1.0 / kSamples;
    }
  }
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    const double mean = sum[i] / kSamples;
    sampled.sd[i] = std::sqrt(std::max(0.0, square[i] / kSamples - mean * mean));
  }
  return sampled;
}

TEST_CASE("seams that were cut to meet still meet on a body that is otherwise (geometry)") {
  for (const char* file : {"choir/jobs/soprano-1.yaml", "choir/jobs/alto-2.yaml"}) {
    const Job job = demo_job(file);
    const FitResult result = fit(job, shipped_catalogue());
    REQUIRE(result.posed);
    const Uncertainty doubts = uncertainty(job, shipped_catalogue(), result);
    int looked = 0;
    for (const RuleSureness& r : doubts.rules) {
      const std::string& name = result.posed->rules[static_cast<size_t>(r.rule)].name;
      if (name != "skirt and bodice meet at the waist" && name != "side seams are equal") continue;
      INFO(file << ": " << name);
      CHECK(r.probability > 0.999);
      CHECK(r.sd < 1e-6);
      ++looked;
    }
    CHECK(looked == 2);
  }
}

TEST_CASE("first-order s.d. and probabilities agree with 10,000 samples") {
  for (const char* file : {"examples/sample.yaml", "choir/jobs/alto-2.yaml"}) {
    const Job job = demo_job(file);
    const FitResult result = fit(job, shipped_catalogue());
    REQUIRE(result.posed);
    const Uncertainty first_order = uncertainty(job, shipped_catalogue(), result);
    const Sampled sampled = sample(job, result);
    int compared = 0;
    for (size_t i = 0; i < kMeasureKeys; ++i) {
      if (!result.has_measure[i] || sampled.sd[i] < 1e-6) continue;
      INFO(file << ": " << info(static_cast<MeasureKey>(i)).id);
      // 10,000 samples know an s.d. to 0.7 %; the rest is what corners within one error (the larger
      // of two girths, the balance's clamp) leave to higher orders. 0.15 cm is a seam's own
      // tolerance.
      CHECK_THAT(first_order.measure_sd[i],
                 WithinRel(sampled.sd[i], 0.15) || WithinAbs(sampled.sd[i], 0.15));
      ++compared;
    }
    CHECK(compared > 40);
    for (size_t i = 0; i < sampled.holds.size(); ++i) {
      INFO(file << ": " << result.posed->rules[i].name);
      // The balance is clamped: half of all bodies need exactly no correction, which no normal
      // margin can say.
      if (result.posed->rules[i].name == "front waist line follows the body's balance") continue;
      CHECK_THAT(first_order.rules[i].probability, WithinAbs(sampled.holds[i], 0.15));
    }
  }
}

TEST_CASE("an exact body makes every rule that holds sure") {
  Job job = demo_job("examples/sample.yaml");
  const auto completed = complete(job.body, WaistLevel::natural, shipped_catalogue().bodies);
  job.body = as_given(completed.body);
  for (auto& value : job.body.given) {
    value->sd = 0;
    value->origin = Origin::measured;
  }
  const FitResult result = fit(job, shipped_catalogue());
  REQUIRE(result.posed);
  const Uncertainty doubts = uncertainty(job, shipped_catalogue(), result);
  for (const RuleSureness& r : doubts.rules) {
    INFO(result.posed->rules[static_cast<size_t>(r.rule)].name);
    CHECK((r.probability > 0.99 || r.probability < 0.01));
  }
}

TEST_CASE("a surer fit holds more surely") {
  const Job job = demo_job("examples/sample.yaml");
  const FitResult plain = fit(job, shipped_catalogue());
  const FitResult sure = fit_surely(job, shipped_catalogue(), 0.9);
  const auto doubt = [&](const FitResult& result) {
    double sum = 0;
    for (const RuleSureness& r : uncertainty(job, shipped_catalogue(), result).rules) {
      if (result.posed->rules[static_cast<size_t>(r.rule)].strength <= solver::Level::should)
        sum += 1 - r.probability;
    }
    return sum;
  };
  CHECK(doubt(sure) < 0.8 * doubt(plain));
}

TEST_CASE("the advice names what was estimated and matters, and following it helps") {
  Job job = demo_job("choir/jobs/mezzo-2.yaml");
  const FitResult result = fit(job, shipped_catalogue());
  const Uncertainty doubts = uncertainty(job, shipped_catalogue(), result);
  REQUIRE(doubts.advice.size() == 2);
  CHECK(doubts.advice[0].doubt_removed >= doubts.advice[1].doubt_removed);
  const auto doubt = [&](const Uncertainty& u) {
    double sum = 0;
    for (const RuleSureness& r : u.rules) {
      if (result.posed->rules[static_cast<size_t>(r.rule)].strength <= solver::Level::should)
        sum += r.probability * (1 - r.probability);
    }
    return sum;
  };
  // A body taped at the natural waist, where the garment has its own. Tape it: the value it was
  // estimated at, with a home tape's error.
  const BodyKey key = doubts.advice[0].key;
  Job taped = job;
  taped.body[key] = BodyValue{result.completed.body[key], info(key).default_sd, Origin::measured};
  for (size_t i = 0; i < kValueKeys; ++i)
    taped.draft.emplace_back(static_cast<ValueKey>(i), result.values.at[i]);
  const FitResult again = check(taped, shipped_catalogue());
  CHECK(doubt(uncertainty(taped, shipped_catalogue(), again)) <
        doubt(doubts) - 0.5 * doubts.advice[0].doubt_removed);
}

TEST_CASE("the normal distribution and its inverse (Abramowitz & Stegun, tables 26.1 and 26.5)") {
  CHECK_THAT(normal_distribution(1.0), WithinAbs(0.841344746068543, 1e-12));
  CHECK_THAT(normal_quantile(0.9), WithinAbs(1.281551565544601, 1e-10));
  CHECK_THAT(normal_quantile(0.975), WithinAbs(1.959963984540054, 1e-10));
  CHECK_THAT(normal_quantile(0.5), WithinAbs(0, 1e-12));
  CHECK_THAT(normal_quantile(0.001), WithinAbs(-3.090232306167813, 1e-9));
}

}  // namespace
}  // namespace easewright::tests
