#include "derive_body_tables.h"

#include "survey.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <fmt/format.h>

namespace easewright {
namespace {

using enum BodyKey;
using Column = std::vector<double>;

// One variable of the table: a column of the survey, or one built from others. What is built, or
// interpolated by the survey, is known less well than what is taped: `noise` is that s.d., added to
// the diagonal only.
struct Variable {
  BodyVariable name;
  Column values;
  double noise = 0;
};

// Surface over vertical distance in the lower trunk: back waist length 36.7 over a drop of 35.15
// (1988 women).
constexpr double kSurfacePerVertical = 1.045;

class Builder {
 public:
  Builder(Build build, Half half)
      : build_(build),
        survey_(read_survey(build == Build::man ? "ansur1988-men" : "ansur1988-women")) {
    if (half == Half::both) return;
    std::vector<std::vector<double>> kept;
    for (size_t i = half == Half::first ? 0 : 1; i < survey_.rows.size(); i += 2)
      kept.push_back(survey_.rows[i]);
    survey_.rows = std::move(kept);
  }

  std::vector<Variable> build() {
    if (survey_.rows.empty()) return {};
    direct();
    slope_and_reach();
    waist_levels();
    front_over_bust_lengths();
    practice_only();
    std::stable_sort(all_.begin(), all_.end(), [](const Variable& a, const Variable& b) {
      return a.name.key < b.name.key;
    });
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
    all_.push_back(
        {.name = {.key = key, .level = level}, .values = std::move(values), .noise = noise});
  }

  void direct() {
    const std::pair<BodyKey, const char*> columns[] = {
        {stature, "stature"},
        {head_girth, "head_girth"},
        {neck_girth, "neck_girth"},
        {neck_base_girth, "neck_base_girth"},
        {shoulder_girth, "shoulder_girth"},
        {bust_girth, "bust_girth"},
        {underbust_girth, "underbust_girth"},
        {hip_girth, "hip_girth"},
        {thigh_girth, "thigh_girth"},
        {knee_girth, "knee_girth"},
        {calf_girth, "calf_girth"},
        {ankle_girth, "ankle_girth"},
        {armscye_girth, "armscye_girth"},
        {upper_arm_girth, "upper_arm_girth"},
        {side_neck_to_bust_point, "neck_to_bust_point"},
        {bust_point_width, "bust_point_width"},
        {scye_depth, "scye_depth"},
        {shoulder_length, "shoulder_length"},
        {across_back, "back_width_axilla"},
        {hip_height, "hip_height"},
        {gluteal_fold_height, "gluteal_fold_height"},
        {crotch_height, "crotch_height"},
        {knee_height, "knee_height"},
        {calf_height, "calf_height"},
        {trochanter_height, "trochanter_height"},
        {armpit_height, "axilla_height"},
        {bust_height, "bust_height"},
        {bust_breadth, "chest_breadth"},
        {bust_depth, "chest_depth"},
        {hip_breadth, "hip_breadth"},
        {hip_depth, "hip_depth"},
        {hip_breadth_sitting, "hip_breadth_sitting"},
        {thigh_clearance_sitting, "thigh_clearance_sitting"},
        {abdominal_depth_sitting, "abdominal_depth_sitting"},
        {buttock_knee_length, "buttock_knee_length"}};
    for (const auto& [key, name] : columns) add(key, get(name));
  }

  void slope_and_reach() {
    const Column neck = get("side_neck_height"), tip = get("acromion_height"),
                 length = get("shoulder_length");
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

    const Column high = get("waist_height"), middle = get("waist_height_iso"),
                 low = get("waist_height_omphalion");
    const std::pair<WaistLevel, const Column*> heights[] = {
        {natural, &high}, {iso, &middle}, {navel, &low}};
    // Front and back run over belly and seat: nobody surveyed them; within 1 cm of the side
    // (practice).
    for (const auto& [level, height] : heights) {
      add(waist_height, *height, level == iso ? kLengthNoise : 0, level);
      add(waist_height_front, *height, 1.0, level);
      add(waist_height_back, *height, 1.0, level);
    }
    const Column seated = get("waist_height_sitting"),
                 seated_low = get("waist_height_omphalion_sitting");
    add(waist_height_sitting, seated, 0, natural);
    add(waist_height_sitting,
        each([&](size_t i) {
          const double whole = high[i] - low[i];
          const double part =
              whole > 0.5 ? std::clamp((high[i] - middle[i]) / whole, 0.0, 1.0) : 0.5;
          return seated[i] + part * (seated_low[i] - seated[i]);
        }),
        kLengthNoise,
        iso);
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
          each([&](size_t i) { return to_bust[i] + kSurfacePerVertical * (bust[i] - waist[i]); }),
          0.7,
          level);
    }
  }

  // Measures that no open survey took. Practice gives their mean, and an s.d. for what it leaves
  // out.
  void practice_only() {
    const Column bust = get("bust_girth"), under = get("underbust_girth"),
                 back = get("back_width_axilla");
    const bool man = build_ == Build::man;
    // Across front: 0.368 of the bust (Aldrich, size 12: 32.4 / 88), s.d. 1.2; 0.375 for men,
    // between that and 0.93 of across back. A back broader than the bust says is taken to widen the
    // front by 0.3 of it.
    const auto [intercept, slope] = line(bust, back);
    const double share = man ? 0.375 : 0.368;
    add(across_front,
        each([&, a = intercept, b = slope](size_t i) {
          return share * bust[i] + 0.3 * (back[i] - a - b * bust[i]);
        }),
        man ? 1.3 : 1.04);
    // Slanting upper chest: where cup and slant agree on the bust angle, 15.4 + 1.5 (cup - 13.7) =
    // 15.4 + 2.2 (bust - upper chest - 4.6); s.d. as of the bust less the survey's level girth, 2.8
    // and 1.9. That level girth itself is another measure and is not used.
    add(upper_chest_girth,
        each([&](size_t i) { return bust[i] - 4.6 - 1.5 / 2.2 * (bust[i] - under[i] - 13.7); }),
        man ? 1.9 : 2.8);
  }

  static std::pair<double, double> line(const Column& x, const Column& y) {
    const Eigen::Map<const Eigen::ArrayXd> xs(x.data(), static_cast<Eigen::Index>(x.size()));
    const Eigen::Map<const Eigen::ArrayXd> ys(y.data(), static_cast<Eigen::Index>(y.size()));
    const double slope =
        ((xs - xs.mean()) * (ys - ys.mean())).sum() / (xs - xs.mean()).square().sum();
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

// Adults of NHANES, weighted to the public: stature, hip, and waist just above the iliac crest,
// which compares with the navel. Soldiers are not the public: a quarter of US women have hips
// larger than any woman of the 1988 survey, and among soldiers the broad are also tall, which among
// the public they are not.
struct Public {
  static constexpr std::array<BodyVariable, 3> kVariables = {
      {{.key = stature}, {.key = hip_girth}, {.key = waist_girth, .level = WaistLevel::navel}}};
  Eigen::MatrixXd people;  // n x 3
  Eigen::VectorXd weight;  // sums to 1
  Eigen::Vector3d mean;
  Eigen::Matrix3d covariance;

  explicit Public(Build build) {
    const SurveyTable t = read_survey(build == Build::man ? "nhanes2020-men" : "nhanes2020-women");
    if (t.rows.empty()) return;
    const auto take = [&](const char* name) -> Eigen::VectorXd {
      const Column c = t.column(name);
      return Eigen::Map<const Eigen::VectorXd>(c.data(), static_cast<Eigen::Index>(c.size()));
    };
    weight = take("survey_weight");
    weight /= weight.sum();
    people.resize(weight.size(), 3);
    people << take("stature"), take("hip_girth"), take("waist_girth_iliac");
    mean = people.transpose() * weight;
    const Eigen::MatrixXd centred = people.rowwise() - mean.transpose();
    covariance = centred.transpose() * weight.asDiagonal() * centred;
  }
};

// Correction for a selected sample (Pearson 1903, Lawley 1943): soldiers were selected on stature,
// hip and waist; the regressions of all other measures on these three, and what is left over, are
// taken as the same in the public.
struct Corrected {
  Eigen::VectorXd mean;
  Eigen::MatrixXd covariance;
  Eigen::MatrixXd slopes;    // of each variable on the three
  Eigen::VectorXd residual;  // s.d.
};

// The target is half public, half like the soldiers: with the public alone a slim woman's navel
// girth came out 1.7 cm above what slim women were surveyed to have (0.7 so), since girths do not
// grow quite in line; with soldiers alone the waist of the public came out 6 to 8 cm too small from
// stature and hip (2 to 3 so).
constexpr double kPublicShare = 0.5;

Corrected correct_for_selection(const Eigen::VectorXd& mean,
                                const Eigen::MatrixXd& covariance,
                                const std::array<Eigen::Index, 3>& on,
                                const Public& everyone) {
  const auto n = mean.size();
  Eigen::MatrixXd with(n, 3);
  Eigen::Matrix3d among;
  Eigen::Vector3d apart;
  for (Eigen::Index k = 0; k < 3; ++k) {
    with.col(k) = covariance.col(on[static_cast<size_t>(k)]);
    apart(k) = everyone.mean(k) - mean(on[static_cast<size_t>(k)]);
  }
  for (Eigen::Index k = 0; k < 3; ++k) among.row(k) = with.row(on[static_cast<size_t>(k)]);
  // Moments of the mixed population.
  const double p = kPublicShare;
  const Eigen::Vector3d shift = p * apart;
  const Eigen::Matrix3d target =
      p * everyone.covariance + (1 - p) * among + p * (1 - p) * apart * apart.transpose();
  Corrected result;
  result.slopes = among.llt().solve(with.transpose()).transpose();
  const Eigen::MatrixXd left = covariance - result.slopes * with.transpose();
  result.residual = left.diagonal().cwiseMax(0).cwiseSqrt();
  result.mean = mean + result.slopes * shift;
  result.covariance = left + result.slopes * target * result.slopes.transpose();
  return result;
}

// Of the public, each predicted from the three with the residual's spread. `surveyed`: the survey's
// mean and those of the three.
double percentile_of(const Corrected& moments,
                     Eigen::Index variable,
                     double surveyed,
                     const Eigen::Vector3d& of_three,
                     const Public& everyone,
                     double p) {
  const Eigen::VectorXd predicted = ((everyone.people.rowwise() - of_three.transpose()) *
                                     moments.slopes.row(variable).transpose())
                                        .array() +
                                    surveyed;
  const double residual = std::max(moments.residual(variable), 1e-3);
  double low = predicted.minCoeff() - 6 * residual, high = predicted.maxCoeff() + 6 * residual;
  while (high - low > 1e-6) {
    const double middle = 0.5 * (low + high);
    double below = 0;
    for (Eigen::Index i = 0; i < predicted.size(); ++i)
      below += everyone.weight(i) * normal_below((middle - predicted(i)) / residual);
    (below < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// The survey's own people, those of a built measure spread by its noise.
double surveyed_percentile(const Variable& variable, double sd, double mean, double p) {
  const double plain = std::sqrt(std::max(1e-12, sd * sd - variable.noise * variable.noise));
  return mean + sd / plain * (percentile(variable.values, p) - mean);
}

}  // namespace

Moments derive_moments(Build build, Half half) {
  const std::vector<Variable> variables = Builder(build, half).build();
  const Public everyone(build);
  Moments moments;
  if (variables.empty() || everyone.weight.size() == 0) return moments;
  for (const Variable& v : variables) moments.variables.push_back(v.name);

  const auto n = static_cast<Eigen::Index>(variables.size());
  const auto people = static_cast<Eigen::Index>(variables[0].values.size());
  Eigen::MatrixXd x(people, n);
  for (Eigen::Index j = 0; j < n; ++j)
    x.col(j) =
        Eigen::Map<const Eigen::VectorXd>(variables[static_cast<size_t>(j)].values.data(), people);
  const Eigen::VectorXd mean = x.colwise().mean().transpose();
  x.rowwise() -= mean.transpose();
  Eigen::MatrixXd covariance = x.transpose() * x / static_cast<double>(people - 1);
  for (Eigen::Index j = 0; j < n; ++j) {
    const double noise = variables[static_cast<size_t>(j)].noise;
    covariance(j, j) += noise * noise;
  }

  std::array<Eigen::Index, 3> on{};
  for (size_t k = 0; k < 3; ++k) on[k] = moments.find(Public::kVariables[k]);
  const Corrected corrected = correct_for_selection(mean, covariance, on, everyone);
  const Eigen::Vector3d of_three(mean(on[0]), mean(on[1]), mean(on[2]));
  for (Eigen::Index i = 0; i < n; ++i) {
    const double sd = std::sqrt(corrected.covariance(i, i));
    moments.mean.push_back(corrected.mean(i));
    moments.sd.push_back(sd);
    for (Eigen::Index j = 0; j < n; ++j)
      moments.correlation.push_back(corrected.covariance(i, j) /
                                    (sd * std::sqrt(corrected.covariance(j, j))));
    const double surveyed_sd = std::sqrt(covariance(i, i));
    moments.surveyed_mean.push_back(mean(i));
    moments.surveyed_sd.push_back(surveyed_sd);
    const Variable& v = variables[static_cast<size_t>(i)];
    moments.p01.push_back(
        std::min(surveyed_percentile(v, surveyed_sd, mean(i), 0.001),
                 percentile_of(corrected, i, mean(i), of_three, everyone, 0.001)));
    moments.p999.push_back(
        std::max(surveyed_percentile(v, surveyed_sd, mean(i), 0.999),
                 percentile_of(corrected, i, mean(i), of_three, everyone, 0.999)));
  }
  moments.source = fmt::format(
      "ANSUR 1988 {}, Gordon et al. 1989, NATICK/TR-89/044, open half n={}; corrected to NHANES "
      "2017-2020 adults "
      "n={}",
      build == Build::man ? "men" : "women",
      people,
      everyone.weight.size());
  return moments;
}

std::string table_comments(Build build) {
  return fmt::format(
      "# Body measures of {}: means, s.d., percentiles and correlations; cm and degrees. No "
      "person's row is here.\n"
      "# Survey: ANSUR 1988 (Gordon et al. 1989, NATICK/TR-89/044), US Army, the half with even "
      "row\n"
      "# numbers; work of the US Government, public domain in the US. Derived by the program "
      "body_tables.\n"
      "# Waist measures stand at three levels: natural indentation, ISO 8559-1 (half-way from "
      "lowest rib to hip bone;\n"
      "# interpolated in height between the other two), navel.\n"
      "# Not surveyed, built: across front = 0.368 bust (men 0.375) + 0.3 of what across back has "
      "over its regression\n"
      "# on bust, s.d. 1.04 (men 1.3) added; upper chest (slanting) = bust - 4.6 - 0.68 (bust - "
      "underbust - 13.7),\n"
      "# 2.8 (1.9) added; front over bust = side neck to bust point + 1.045 (bust height - waist "
      "height), 0.7 added;\n"
      "# waist height front and back = at the side, 1.0 added; back reach = 2 spine to scye, arms "
      "forward, less across\n"
      "# back; shoulder slope = from side neck and acromion heights, less 5.7 deg. ISO girths have "
      "0.5, ISO lengths\n"
      "# 0.3 added for the interpolation.\n"
      "# Soldiers are slimmer than the public. Mean, s.d. and correlations are corrected for that "
      "selection (Pearson,\n"
      "# Lawley): stature, hip girth and waist girth (navel) vary together as among people half of "
      "whom are the adults\n"
      "# of NHANES 2017-2020 (CDC, P_BMX and P_DEMO, weighted) and half the survey's; all else has "
      "the survey's\n"
      "# regressions on these three. The survey's own mean and s.d. stand beside them. p0.1 and "
      "p99.9 are the wider of\n"
      "# the survey's and of those predicted for the adults of NHANES.\n",
      build == Build::man ? "men" : "women");
}

}  // namespace easewright
