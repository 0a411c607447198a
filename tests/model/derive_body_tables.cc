#include "derive_body_tables.h"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "survey.h"

namespace easewright {
namespace {

using enum BodyKey;
using Column = std::vector<double>;

// One variable of the table: a column of the survey, or one built from others. What is built, or interpolated by
// the survey, is known less well than what is taped: `noise` is that s.d., added to the diagonal only.
struct Variable {
  BodyVariable name;
  Column values;
  double noise = 0;
};

// Surface over vertical distance in the lower trunk: back waist length 36.7 over a drop of 35.15 (1988 women).
constexpr double kSurfacePerVertical = 1.045;

class Builder {
 public:
  explicit Builder(Build build)
      : build_(build), survey_(read_survey(build == Build::man ? "ansur1988-men" : "ansur1988-women")) {}

  std::vector<Variable> build() {
    if (survey_.rows.empty()) return {};
    direct();
    slope_and_reach();
    waist_levels();
    front_over_bust_lengths();
    practice_only();
    std::stable_sort(all_.begin(), all_.end(),
                     [](const Variable& a, const Variable& b) { return a.name.key < b.name.key; });
    return std::move(all_);
  }

 private:
  Column get(const char* name) const { return survey_.column(name); }
  Column each(const std::function<double(size_t)>& f) const {
    Column values(survey_.rows.size());
    for (size_t i = 0; i < values.size(); ++i) values[i] = f(i);
    return values;
  }
  void add(BodyKey key, Column values, double noise = 0, WaistLevel level = WaistLevel::natural) {
    all_.push_back({.name = {.key = key, .level = level}, .values = std::move(values), .noise = noise});
  }

  void direct() {
    const std::pair<BodyKey, const char*> columns[] = {
        {stature, "stature"}, {head_girth, "head_girth"}, {neck_girth, "neck_girth"},
        {neck_base_girth, "neck_base_girth"}, {shoulder_girth, "shoulder_girth"},
        {bust_girth, "bust_girth"}, {underbust_girth, "underbust_girth"}, {hip_girth, "hip_girth"},
        {thigh_girth, "thigh_girth"}, {knee_girth, "knee_girth"}, {calf_girth, "calf_girth"},
        {ankle_girth, "ankle_girth"}, {armscye_girth, "armscye_girth"},
        {upper_arm_girth, "upper_arm_girth"}, {side_neck_to_bust_point, "neck_to_bust_point"},
        {bust_point_width, "bust_point_width"}, {scye_depth, "scye_depth"},
        {shoulder_length, "shoulder_length"}, {across_back, "across_back_width"},
        {hip_height, "hip_height"}, {gluteal_fold_height, "gluteal_fold_height"},
        {crotch_height, "crotch_height"}, {knee_height, "knee_height"}, {calf_height, "calf_height"},
        {trochanter_height, "trochanter_height"}, {armpit_height, "axilla_height"},
        {bust_height, "bust_height"}, {bust_breadth, "chest_breadth"}, {bust_depth, "chest_depth"},
        {hip_breadth, "hip_breadth"}, {hip_depth, "hip_depth"},
        {hip_breadth_sitting, "hip_breadth_sitting"},
        {thigh_clearance_sitting, "thigh_clearance_sitting"},
        {abdominal_depth_sitting, "abdominal_depth_sitting"},
        {buttock_knee_length, "buttock_knee_length"}};
    for (const auto& [key, name] : columns) add(key, get(name));
  }

  void slope_and_reach() {
    const Column neck = get("side_neck_height"), tip = get("acromion_height"), length = get("shoulder_length");
    // A garment's slope is 5.7 deg flatter than the bone points' (25.7 against the 20 of blocks).
    add(shoulder_slope, each([&](size_t i) {
          return std::asin(std::clamp((neck[i] - tip[i]) / length[i], -1.0, 1.0)) - radians(5.7);
        }));
    const Column reach = get("spine_to_scye_arms_forward"), back = get("across_back_width");
    add(back_reach, each([&](size_t i) { return 2 * reach[i] - back[i]; }));
  }

  void waist_levels() {
    using enum WaistLevel;
    // The survey's ISO level is interpolated between the natural waist and the navel.
    constexpr double kGirthNoise = 0.5, kLengthNoise = 0.3;
    add(waist_girth, get("waist_girth"), 0, natural);
    add(waist_girth, get("waist_girth_iso_est"), kGirthNoise, iso);
    add(waist_girth, get("waist_girth_omphalion"), 0, navel);
    add(back_waist_length, get("back_waist_length"), 0, natural);
    add(back_waist_length, get("back_waist_length_iso_est"), kLengthNoise, iso);
    add(back_waist_length, get("back_waist_length_omphalion"), 0, navel);
    add(front_waist_length, get("front_waist_length"), 0, natural);
    add(front_waist_length, get("front_waist_length_iso_est"), kLengthNoise, iso);
    add(front_waist_length, get("front_waist_length_omphalion"), 0, navel);

    const Column high = get("waist_height"), middle = get("waist_height_iso"), low = get("waist_height_omphalion");
    const std::pair<WaistLevel, const Column*> heights[] = {{natural, &high}, {iso, &middle}, {navel, &low}};
    // Front and back run over belly and seat: nobody surveyed them; within 1 cm of the side (practice).
    for (const auto& [level, height] : heights) {
      add(waist_height, *height, level == iso ? kLengthNoise : 0, level);
      add(waist_height_front, *height, 1.0, level);
      add(waist_height_back, *height, 1.0, level);
    }
    const Column seated = get("waist_height_sitting"), seated_low = get("waist_height_omphalion_sitting");
    add(waist_height_sitting, seated, 0, natural);
    add(waist_height_sitting, each([&](size_t i) {
          const double whole = high[i] - low[i];
          const double part = whole > 0.5 ? std::clamp((high[i] - middle[i]) / whole, 0.0, 1.0) : 0.5;
          return seated[i] + part * (seated_low[i] - seated[i]);
        }), kLengthNoise, iso);
    add(waist_height_sitting, seated_low, 0, navel);
  }

  void front_over_bust_lengths() {
    using enum WaistLevel;
    const Column to_bust = get("neck_to_bust_point"), bust = get("bust_height");
    const std::pair<WaistLevel, const char*> heights[] = {
        {natural, "waist_height"}, {iso, "waist_height_iso"}, {navel, "waist_height_omphalion"}};
    for (const auto& [level, name] : heights) {
      const Column waist = get(name);
      add(front_over_bust,
          each([&](size_t i) { return to_bust[i] + kSurfacePerVertical * (bust[i] - waist[i]); }), 0.7, level);
    }
  }

  // Measures that no open survey took. Practice gives their mean, and an s.d. for what it leaves out.
  void practice_only() {
    const Column bust = get("bust_girth"), under = get("underbust_girth"), back = get("across_back_width");
    const bool man = build_ == Build::man;
    // Across front: 0.368 of the bust (Aldrich, size 12: 32.4 / 88), s.d. 1.2; 0.375 for men, between that and
    // 0.93 of across back. A back broader than the bust says is taken to widen the front by 0.3 of it.
    const auto [intercept, slope] = line(bust, back);
    const double share = man ? 0.375 : 0.368;
    add(across_front, each([&, a = intercept, b = slope](size_t i) {
          return share * bust[i] + 0.3 * (back[i] - a - b * bust[i]);
        }), man ? 1.3 : 1.04);
    // Slanting upper chest: where cup and slant agree on the bust angle, 15.4 + 1.5 (cup - 13.7) =
    // 15.4 + 2.2 (bust - upper chest - 4.6); s.d. as of the bust less the survey's level girth, 2.8 and 1.9. That
    // level girth itself is another measure and is not used.
    add(upper_chest_girth, each([&](size_t i) {
          return bust[i] - 4.6 - 1.5 / 2.2 * (bust[i] - under[i] - 13.7);
        }), man ? 1.9 : 2.8);
  }

  static std::pair<double, double> line(const Column& x, const Column& y) {
    const Eigen::Map<const Eigen::ArrayXd> xs(x.data(), static_cast<Eigen::Index>(x.size()));
    const Eigen::Map<const Eigen::ArrayXd> ys(y.data(), static_cast<Eigen::Index>(y.size()));
    const double slope = ((xs - xs.mean()) * (ys - ys.mean())).sum() / (xs - xs.mean()).square().sum();
    return {ys.mean() - slope * xs.mean(), slope};
  }

  Build build_;
  SurveyTable survey_;
  std::vector<Variable> all_;
};

// Linear interpolation between order statistics.
double percentile(Column values, double p) {
  std::sort(values.begin(), values.end());
  const double place = p * static_cast<double>(values.size() - 1);
  const auto i = std::min(static_cast<size_t>(place), values.size() - 2);
  return values[i] + (place - static_cast<double>(i)) * (values[i + 1] - values[i]);
}

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

// Soldiers are not the public: a quarter of US women have hips larger than any woman of the 1988 survey. So each
// measure is predicted from stature, hip and waist for every adult of NHANES, weighted, and the percentiles of
// those predictions, residual s.d. included, widen the survey's own.
class Public {
 public:
  Public(Build build, const Moments& moments) : moments_(moments) {
    const SurveyTable t = read_survey(build == Build::man ? "nhanes2020-men" : "nhanes2020-women");
    if (t.rows.empty()) return;
    const BodyVariable given[] = {{.key = stature}, {.key = hip_girth}, {.key = waist_girth, .level = WaistLevel::navel}};
    const Column columns[] = {t.column("stature"), t.column("hip_girth"), t.column("waist_girth_iliac")};
    weight_ = t.column("survey_weight");
    for (int k = 0; k < 3; ++k) at_[static_cast<size_t>(k)] = static_cast<size_t>(moments.find(given[k]));
    z_.resize(static_cast<Eigen::Index>(weight_.size()), 3);
    for (Eigen::Index i = 0; i < z_.rows(); ++i)
      for (Eigen::Index k = 0; k < 3; ++k) {
        const size_t at = at_[static_cast<size_t>(k)];
        z_(i, k) = (columns[k][static_cast<size_t>(i)] - moments.mean[at]) / moments.sd[at];
      }
  }

  bool empty() const { return weight_.empty(); }

  double percentile_of(size_t variable, double p) const {
    const size_t n = moments_.variables.size();
    Eigen::Matrix3d among;
    Eigen::Vector3d with;
    for (Eigen::Index a = 0; a < 3; ++a) {
      with(a) = moments_.correlation[at_[static_cast<size_t>(a)] * n + variable];
      for (Eigen::Index b = 0; b < 3; ++b)
        among(a, b) = moments_.correlation[at_[static_cast<size_t>(a)] * n + at_[static_cast<size_t>(b)]];
    }
    const Eigen::Vector3d slope = among.llt().solve(with);
    const double residual = std::sqrt(std::max(1e-6, 1 - slope.dot(with)));
    const Eigen::VectorXd predicted = z_ * slope;
    double low = -40, high = 40;
    while (high - low > 1e-6) {
      const double middle = 0.5 * (low + high);
      double below = 0, all = 0;
      for (Eigen::Index i = 0; i < predicted.size(); ++i) {
        const double w = weight_[static_cast<size_t>(i)];
        below += w * normal_below((middle - predicted(i)) / residual);
        all += w;
      }
      (below < p * all ? low : high) = middle;
    }
    return moments_.mean[variable] + moments_.sd[variable] * 0.5 * (low + high);
  }

 private:
  const Moments& moments_;
  std::array<size_t, 3> at_{};
  Eigen::MatrixXd z_;
  Column weight_;
};

void fill_percentiles(Build build, const std::vector<Variable>& variables, Moments& moments) {
  const Public everyone(build, moments);
  for (size_t i = 0; i < variables.size(); ++i) {
    const double mean = moments.mean[i];
    const double plain = std::sqrt(std::max(1e-12, moments.sd[i] * moments.sd[i] -
                                                       variables[i].noise * variables[i].noise));
    const double widened = moments.sd[i] / plain;
    moments.p01[i] = mean + widened * (percentile(variables[i].values, 0.001) - mean);
    moments.p999[i] = mean + widened * (percentile(variables[i].values, 0.999) - mean);
    if (everyone.empty()) continue;
    moments.p01[i] = std::min(moments.p01[i], everyone.percentile_of(i, 0.001));
    moments.p999[i] = std::max(moments.p999[i], everyone.percentile_of(i, 0.999));
  }
}

}  // namespace

Moments derive_moments(Build build) {
  const std::vector<Variable> variables = Builder(build).build();
  Moments moments;
  if (variables.empty()) return moments;
  const auto n = static_cast<Eigen::Index>(variables.size());
  const auto people = static_cast<Eigen::Index>(variables[0].values.size());
  Eigen::MatrixXd x(people, n);
  for (Eigen::Index j = 0; j < n; ++j)
    x.col(j) = Eigen::Map<const Eigen::VectorXd>(variables[static_cast<size_t>(j)].values.data(), people);
  const Eigen::RowVectorXd mean = x.colwise().mean();
  x.rowwise() -= mean;
  Eigen::MatrixXd covariance = x.transpose() * x / static_cast<double>(people - 1);
  for (Eigen::Index j = 0; j < n; ++j) {
    const double noise = variables[static_cast<size_t>(j)].noise;
    covariance(j, j) += noise * noise;
  }
  for (Eigen::Index i = 0; i < n; ++i) {
    moments.variables.push_back(variables[static_cast<size_t>(i)].name);
    moments.mean.push_back(mean(i));
    moments.sd.push_back(std::sqrt(covariance(i, i)));
    for (Eigen::Index j = 0; j < n; ++j)
      moments.correlation.push_back(covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j)));
  }
  moments.p01.resize(static_cast<size_t>(n));
  moments.p999.resize(static_cast<size_t>(n));
  fill_percentiles(build, variables, moments);
  moments.source = fmt::format("ANSUR 1988 {}, Gordon et al. 1989, NATICK/TR-89/044, open half n={}",
                               build == Build::man ? "men" : "women", people);
  return moments;
}

std::string table_comments(Build build) {
  return fmt::format(
      "# Body measures of {}: means, s.d., percentiles and correlations; cm and degrees. No person's row is here.\n"
      "# Survey: ANSUR 1988 (Gordon et al. 1989, NATICK/TR-89/044), US Army, the half with even row\n"
      "# numbers; work of the US Government, public domain in the US. Derived by the program body_tables.\n"
      "# Waist measures stand at three levels: natural indentation, ISO 8559-1 (half-way from lowest rib to hip bone;\n"
      "# interpolated in height between the other two), navel.\n"
      "# Not surveyed, built: across front = 0.368 bust (men 0.375) + 0.3 of what across back has over its regression\n"
      "# on bust, s.d. 1.04 (men 1.3) added; upper chest (slanting) = bust - 4.6 - 0.68 (bust - underbust - 13.7),\n"
      "# 2.8 (1.9) added; front over bust = side neck to bust point + 1.045 (bust height - waist height), 0.7 added;\n"
      "# waist height front and back = at the side, 1.0 added; back reach = 2 spine to scye, arms forward, less across\n"
      "# back; shoulder slope = from side neck and acromion heights, less 5.7 deg. ISO girths have 0.5, ISO lengths\n"
      "# 0.3 added for the interpolation.\n"
      "# p0.1 and p99.9: the wider of the survey's and of those predicted for NHANES 2017-2020 adults (CDC, P_BMX,\n"
      "# weighted) from stature, hip and waist, since soldiers are slimmer than the public.\n",
      build == Build::man ? "men" : "women");
}

}  // namespace easewright
