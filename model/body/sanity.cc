#include "model/body/sanity.h"

#include <array>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using Kind = BodyNote::Kind;

std::string path_of(BodyKey key) { return "measures." + spoken(info(key).id); }
std::string name_of(BodyKey key) { return spoken(info(key).id); }

std::string trimmed_number(double value) {
  std::string text = fmt::format("{:.1f}", value);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

// What the writer may have meant: the value in another unit.
struct Slip {
  double factor;
  const char* meant;
};
constexpr std::array<Slip, 5> kSlips = {{{0.1, ""},               // mm
                                         {10, ""},                // a decimal point too far left
                                         {kCmPerInch, "in"},      // inches
                                         {100, ""},               // m
                                         {1 / kCmPerInch, ""}}};  // converted twice

std::string likely_slip(BodyKey key, double value, const Moments* expected) {
  if (info(key).dimension != kLength || !std::isfinite(value)) return {};
  const int at = expected ? expected->find({.key = key}) : -1;
  const double low = at < 0 ? info(key).least : expected->p01[static_cast<size_t>(at)];
  const double high = at < 0 ? info(key).most : expected->p999[static_cast<size_t>(at)];
  for (const Slip& slip : kSlips) {
    const double fixed = value * slip.factor;
    if (fixed < low || fixed > high) continue;
    if (slip.meant[0] != '\0')
      return fmt::format(" (did you mean {} {}, which is {}?)",
                         trimmed_number(value),
                         slip.meant,
                         format_body_value(key, fixed));
    return fmt::format(" (did you mean {}?)", format_body_value(key, fixed));
  }
  return {};
}

// lesser <= factor * greater + margin, cm.
struct Order {
  BodyKey lesser;
  double factor;
  BodyKey greater;
  double margin;
  const char* reason;
};

using enum BodyKey;
// Only what holds for every body: margins cover two tapes and soft tissue. A waist larger than the
// hips, an armhole smaller than the arm or a flat chest is no contradiction.
constexpr Order kOrders[] = {
    {underbust_girth, 1, bust_girth, 3, "the bust level is no smaller than the ribs below it"},
    {upper_chest_girth, 1, bust_girth, 15, "the tape above the bust runs over much the same ribs"},
    {across_front,
     0.5,
     bust_girth,
     0,
     "the front between the arms is less than half of the bust girth"},
    {across_back,
     0.55,
     bust_girth,
     0,
     "the back between the arms is about half of the bust girth at most"},
    {bust_point_width,
     0.95,
     across_front,
     6,
     "the bust points lie about within the armpit creases"},
    {bust_point_width, 0.5, bust_girth, 0, "half of the bust girth is on the back"},
    {neck_girth, 1, neck_base_girth, 3, "the neck widens towards its base"},
    {neck_base_girth, 0.75, bust_girth, 0, "the neck base lies within the chest"},
    {neck_base_girth, 0.75, shoulder_girth, 0, "the neck base lies within the shoulders"},
    {scye_depth, 0.9, back_waist_length, 0, "the armpits lie above the waist"},
    {side_neck_to_bust_point, 1, front_over_bust, -2, "the bust point lies above the waist"},
    {front_waist_length,
     1,
     front_over_bust,
     0,
     "the side neck point lies above the front neck point"},
    {front_waist_length,
     1,
     back_waist_length,
     8,
     "the front neck point lies below the back neck point"},
    {ankle_girth, 1, calf_girth, 0, "the ankle is the least girth of the leg"},
    {calf_girth, 1, thigh_girth, 3, "the leg widens upwards"},
    {knee_girth, 1, thigh_girth, 3, "the leg widens upwards"},
    {thigh_girth, 0.85, hip_girth, 0, "the hips hold both thighs"},
    {upper_arm_girth, 1, armscye_girth, 5, "the arm passes through the armscye"},
    {calf_height, 1, knee_height, 0, "the calf lies below the knee"},
    {knee_height, 0.9, crotch_height, 0, "the knee lies below the crotch"},
    {knee_height, 0.9, gluteal_fold_height, 0, "the knee lies below the gluteal fold"},
    {knee_height, 0.4, stature, 0, "the knee lies in the lower third of the body"},
    {crotch_height, 1, hip_height, 5, "the crotch lies below the hip level"},
    {crotch_height, 0.98, waist_height, 0, "the crotch lies below the waist"},
    {gluteal_fold_height, 1, hip_height, 1, "the gluteal fold lies below the hip level"},
    {hip_height, 0.99, waist_height, 0, "the hip level lies below the waist"},
    {trochanter_height, 0.99, waist_height, 0, "the hip joint lies below the waist"},
    {waist_height, 1, bust_height, 0, "the waist lies below the bust"},
    {waist_height, 0.8, stature, 0, "the waist lies below the chest"},
    {waist_height_front, 1, waist_height, 12, "front and side are taken at one waist"},
    {waist_height, 1, waist_height_front, 12, "front and side are taken at one waist"},
    {waist_height_back, 1, waist_height, 12, "back and side are taken at one waist"},
    {waist_height, 1, waist_height_back, 12, "back and side are taken at one waist"},
    {bust_height, 1, armpit_height, 3, "the bust point lies below the armpit"},
    {armpit_height, 0.85, stature, 0, "the armpit lies below the neck"},
    {crotch_height, 0.62, stature, 0, "legs are at most about six tenths of the stature"},
    {back_waist_length, 0.42, stature, 0, "neck to waist is about a quarter of the stature"},
    {hip_breadth, 1, hip_breadth_sitting, 3, "the hips spread when seated"},
    {abdominal_depth_sitting, 1, buttock_knee_length, 0, "the belly ends short of the knees"},
    {buttock_knee_length, 0.5, stature, 0, "the thigh is about a third of the stature"},
    {waist_height_sitting, 1, waist_height, 0, "the seat lies above the floor"},
};

void contradict(const CompleteBody& body,
                BodyKey a,
                BodyKey b,
                const std::string& text,
                std::vector<BodyNote>& notes) {
  const bool taped = is_taped(body.at(a).origin) && is_taped(body.at(b).origin);
  const BodyKey named = is_taped(body.at(a).origin) ? a : b;
  notes.push_back({.kind = taped ? Kind::error : Kind::warning,
                   .key_path = path_of(named),
                   .text = taped ? text : text + "; one of them is estimated: tape it"});
}

// A closed convex line that touches all four sides of a box of breadth b and depth d is at least
// twice the diagonal and at most the box's perimeter; a taut tape runs along such a line.
void check_section(const CompleteBody& body,
                   BodyKey girth,
                   BodyKey breadth,
                   BodyKey depth,
                   std::vector<BodyNote>& notes) {
  // An estimated girth, breadth or depth is no evidence of a contradiction.
  for (const BodyKey key : {girth, breadth, depth})
    if (!is_taped(body.at(key).origin)) return;
  const double g = body[girth], b = body[breadth], d = body[depth];
  // Two tapes, breath, levels a little apart. A caliper also presses in what the tape goes round:
  // on the chest by some 3 cm of breadth in the 2012 survey.
  const double below = 4, above = 12;
  const double least = 2 * std::hypot(b, d) - below, most = 2 * (b + d) + above;
  if (g >= least && g <= most) return;
  notes.push_back(
      {.kind = Kind::error,
       .key_path = path_of(girth),
       .text = fmt::format("{} {} cannot go round a breadth of {} and a depth of {} ({} to {} can)",
                           name_of(girth),
                           format_body_value(girth, g),
                           format_body_value(breadth, b),
                           format_body_value(depth, d),
                           trimmed_number(least),
                           format_body_value(girth, most))});
}

}  // namespace

std::string format_body_value(BodyKey key, double value) {
  const Dimension dimension = info(key).dimension;
  if (dimension == kAngle) return trimmed_number(degrees(value)) + " deg";
  if (dimension == kTime) return trimmed_number(value) + " years";
  return trimmed_number(value) + " cm";
}

bool refuse_values(const Body& body, const Moments* expected, std::vector<BodyNote>& notes) {
  bool refused = false;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (!body[key]) continue;
    const double value = body[key]->value;
    if (!std::isfinite(value) || !(body[key]->sd >= 0) || !std::isfinite(body[key]->sd)) {
      notes.push_back({.kind = Kind::error,
                       .key_path = path_of(key),
                       .text = "value and s.d. must be finite numbers, the s.d. not below 0"});
      refused = true;
    } else if (value < least_possible(key, body.build) || value > info(key).most) {
      const std::string least = format_body_value(key, least_possible(key, body.build));
      notes.push_back({.kind = Kind::error,
                       .key_path = path_of(key),
                       .text = fmt::format("{} is outside {}-{}{}",
                                           format_body_value(key, value),
                                           least.substr(0, least.find(' ')),
                                           format_body_value(key, info(key).most),
                                           likely_slip(key, value, expected))});
      refused = true;
    }
  }
  return refused;
}

void check_pairs(const CompleteBody& body, std::vector<BodyNote>& notes) {
  for (const Order& o : kOrders) {
    const bool any_known = body.at(o.lesser).origin != Origin::estimated ||
                           body.at(o.greater).origin != Origin::estimated;
    if (!any_known || body[o.lesser] <= o.factor * body[o.greater] + o.margin) continue;
    contradict(body,
               o.lesser,
               o.greater,
               fmt::format("{} {} does not go with {} {}: {}",
                           name_of(o.lesser),
                           format_body_value(o.lesser, body[o.lesser]),
                           name_of(o.greater),
                           format_body_value(o.greater, body[o.greater]),
                           o.reason),
               notes);
  }
  check_section(body, bust_girth, bust_breadth, bust_depth, notes);
  check_section(body, hip_girth, hip_breadth, hip_depth, notes);
}

// Girths that few bodies have together; the largest of 5,000 (NHANES 2017-2020, at the navel) is
// 1.19 times the hip, of ANSUR 1988 women 1.08 times the bust.
static void warn_unusual_waist(const Body& body, std::vector<BodyNote>& notes) {
  const auto taped = [&](BodyKey key) {
    return body[key] && body[key]->origin == Origin::measured;
  };
  for (const BodyKey other : {hip_girth, bust_girth}) {
    if (!taped(waist_girth) || !taped(other)) continue;
    if (body[waist_girth]->value <= 1.2 * body[other]->value) continue;
    notes.push_back({.kind = Kind::warning,
                     .key_path = path_of(waist_girth),
                     .text = fmt::format("{} {} beside {} {} is rare; tape both again",
                                         name_of(waist_girth),
                                         format_body_value(waist_girth, body[waist_girth]->value),
                                         name_of(other),
                                         format_body_value(other, body[other]->value))});
  }
}

void warn_unlikely(const Body& body, const Moments& moments, std::vector<BodyNote>& notes) {
  warn_unusual_waist(body, notes);
  for (size_t i = 0; i < moments.variables.size(); ++i) {
    const BodyVariable v = moments.variables[i];
    if (!body[v.key] || !is_taped(body[v.key]->origin)) continue;
    if (depends_on_waist_level(v.key) && v.level != body.waist_level) continue;
    if (v.key == shoulder_slope) continue;  // depends on what it was read from
    const double value = body[v.key]->value;
    const bool low = value < moments.p01[i];
    if (!low && value <= moments.p999[i]) continue;
    notes.push_back({.kind = Kind::warning,
                     .key_path = path_of(v.key),
                     .text = fmt::format(
                         "{} {} is rare: of 1000 people surveyed one has {} than {}; tape again",
                         name_of(v.key),
                         format_body_value(v.key, value),
                         low ? "less" : "more",
                         format_body_value(v.key, low ? moments.p01[i] : moments.p999[i]))});
  }
}

void warn_odd_one_out(const Moments& moments,
                      const std::vector<Observation>& observations,
                      std::vector<BodyNote>& notes) {
  constexpr size_t kFewest = 4;  // fewer say too little about each other
  constexpr double kOdd = 4.5;
  if (observations.size() < kFewest) return;
  const auto left_out = leave_one_out(moments, observations);
  for (size_t i = 0; i < observations.size(); ++i) {
    const LeftOut& out = left_out[i];
    if (std::abs(out.difference) <= kOdd * out.sd) continue;
    const BodyKey key = moments.variables[static_cast<size_t>(observations[i].variable)].key;
    const double value = observations[i].value;
    notes.push_back(
        {.kind = Kind::warning,
         .key_path = path_of(key),
         .text = fmt::format(
             "{} {} does not go with the other measures, which make it {} (s.d. {}); tape again",
             name_of(key),
             format_body_value(key, value),
             format_body_value(key, value - out.difference),
             format_body_value(key, out.sd))});
  }
}

void warn_mixed_levels(const Body& body, const Moments& moments, std::vector<BodyNote>& notes) {
  const auto taped = [&](BodyKey key) {
    return body[key] && body[key]->origin == Origin::measured;
  };
  constexpr std::array kLengths = {
      back_waist_length, front_waist_length, front_over_bust, waist_height};
  constexpr std::array kOthers = {stature,
                                  bust_girth,
                                  underbust_girth,
                                  hip_girth,
                                  bust_height,
                                  hip_height,
                                  side_neck_to_bust_point,
                                  scye_depth,
                                  front_waist_length};
  BodyKey length = BodyKey::count;
  for (const BodyKey key : kLengths)
    if (length == BodyKey::count && taped(key)) length = key;
  if (!taped(waist_girth) || length == BodyKey::count) return;

  // How well each pair of levels explains the tapes.
  const auto surprise_at = [&](WaistLevel girth_level, WaistLevel length_level) {
    std::vector<Observation> observations;
    const auto add = [&](BodyKey key, WaistLevel level) {
      const int at = moments.find({.key = key, .level = level});
      if (at >= 0)
        observations.push_back({.variable = at, .value = body[key]->value, .sd = body[key]->sd});
    };
    add(waist_girth, girth_level);
    for (const BodyKey key : kLengths)
      if (taped(key)) add(key, length_level);
    for (const BodyKey key : kOthers)
      if (taped(key) && !depends_on_waist_level(key)) add(key, WaistLevel::natural);
    return surprise(moments, observations);
  };
  // Twice the log likelihood ratio from which on it is said. Lengths at natural waist and navel are
  // 7 cm apart and seldom confused; a girth is taken at the navel by many (the mean woman's differs
  // by 6.6 cm, and is to be found out), which costs a false alarm in one honest body of twenty.
  // Neighbouring levels lie 4 cm apart with an s.d. of 1.7: only many tapes tell them apart. A
  // navel is seldom missed, so that to doubt it takes more.
  const auto needed = [](WaistLevel level, WaistLevel girth_at, WaistLevel length_at) {
    if (girth_at == WaistLevel::iso || length_at == WaistLevel::iso) return 12.0;
    if (level == WaistLevel::navel) return 5.0;
    return girth_at == WaistLevel::navel ? 1.5 : 3.0;
  };
  const WaistLevel own = body.waist_level;
  const double declared = surprise_at(own, own);
  double strongest = 0;
  std::pair<WaistLevel, WaistLevel> at{own, own};
  for (const WaistLevel other : {WaistLevel::natural, WaistLevel::iso, WaistLevel::navel}) {
    if (other == own) continue;
    for (const auto& pair : {std::pair{other, own}, std::pair{own, other}}) {
      const double excess =
          declared - surprise_at(pair.first, pair.second) - needed(own, pair.first, pair.second);
      if (excess > strongest) strongest = excess, at = pair;
    }
  }
  if (!(strongest > 0)) return;
  notes.push_back(
      {.kind = Kind::warning,
       .key_path = path_of(at.first != own ? waist_girth : length),
       .text = fmt::format(
           "{} {} and {} {} look like two waists, {} and {}, not both {}: tape both at one level",
           name_of(waist_girth),
           format_body_value(waist_girth, body[waist_girth]->value),
           name_of(length),
           format_body_value(length, body[length]->value),
           to_string(at.first),
           to_string(at.second),
           to_string(own))});
}

}  // namespace easewright
