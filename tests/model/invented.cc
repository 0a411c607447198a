#include "invented.h"

#include "model/body/sanity.h"

#include <cmath>
#include <random>

#include <Eigen/Cholesky>
#include <fmt/format.h>

namespace easewright::tests {
namespace {

/// Standard normal out of a generator's bits alone: the library's own differs between libraries.
double normal(std::mt19937_64& generator) {
  const auto uniform = [&generator] {
    return (static_cast<double>(generator() >> 11) + 0.5) / 9007199254740992.0;
  };
  const double r = std::sqrt(-2 * std::log(uniform()));
  return r * std::cos(2 * kPi * uniform());
}

Eigen::MatrixXd root_of(const Moments& moments) {
  const auto n = static_cast<Eigen::Index>(moments.variables.size());
  const Eigen::Map<const Eigen::MatrixXd> correlation(moments.correlation.data(), n, n);
  Eigen::MatrixXd root = correlation.llt().matrixL();
  for (Eigen::Index i = 0; i < n; ++i) root.row(i) *= moments.sd[static_cast<size_t>(i)];
  return root;
}

}  // namespace

std::vector<Body> invented_women(const BodyTables& tables, size_t count, std::uint64_t seed) {
  const Moments& women = tables.women;
  const Eigen::MatrixXd root = root_of(women);
  std::mt19937_64 generator(seed);
  std::vector<Body> bodies;
  bodies.reserve(count);
  Eigen::VectorXd z(root.cols());
  while (bodies.size() < count) {
    for (double& value : z) value = normal(generator);
    const Eigen::VectorXd off = root * z;
    Body body;
    body.label = fmt::format("invented {}", bodies.size() + 1);
    body.slope_reading = SlopeReading::garment;
    for (size_t i = 0; i < women.variables.size(); ++i) {
      const auto [key, level] = women.variables[i];
      if (level != WaistLevel::natural) continue;
      double value = women.mean[i] + off[static_cast<Eigen::Index>(i)];
      const double tick = info(key).dimension == kAngle ? radians(0.1) : 0.1;
      value = std::round(value / tick) * tick;
      body[key] = BodyValue{value, info(key).default_sd, Origin::measured};
    }
    if (!has_error(complete(body, WaistLevel::natural, tables))) bodies.push_back(std::move(body));
  }
  return bodies;
}

std::string table_of(const std::vector<Body>& bodies) {
  std::string text = "# lengths: cm\n# build: woman\n# waist level: natural\n";
  const SlopeReading read = bodies.front().slope_reading;
  text += fmt::format("# shoulder slope read from: {}\nlabel",
                      read == SlopeReading::bone         ? "bone"
                      : read == SlopeReading::silhouette ? "silhouette"
                                                         : "garment");
  std::vector<BodyKey> keys;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    bool given = false;
    for (const Body& body : bodies) given = given || body[key].has_value();
    if (!given) continue;
    keys.push_back(key);
    text += "," + spoken(info(key).id);
  }
  for (const Body& body : bodies) {
    text += "\n" + body.label;
    for (const BodyKey key : keys) {
      text += ',';
      if (!body[key]) continue;
      const double value = body[key]->value;
      text += fmt::format("{:.10g}", info(key).dimension == kAngle ? degrees(value) : value);
    }
  }
  return text + "\n";
}

}  // namespace easewright::tests
