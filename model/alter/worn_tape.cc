#include "model/alter/worn_tape.h"

#include "model/pose.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace easewright {
namespace {

using B = BodyKey;
using F = FlatKey;
using Terms = std::vector<std::pair<BodyKey, double>>;

/// What is usual: a mean and one s.d., cm. Ranges of practice are taken as even: s.d. = range
/// / 3.5.
struct Usual {
  double mean = 0, sd = 0;
};

// Girth ease of woven garments. Bust and hip: fit levels of dresses, close and fitted (2.5 to 8; 3
// to 7), semi-fitted and loose (8 to 20; 7 to 20); waist with a seam 1 to 4 and 4 to 10: common
// practice, and an ease chart printed on dress patterns, from memory. A dress that is pulled over
// the head needs more at the bust: what passes is 6.6 beyond the bust on average, 11.7 in one woman
// of twenty (ANSUR 1988, derived), and it is cut 0 to 3 wider. A skirt on an elastic is
// gathered, 5 to 12 and 8 to 20, some more.
constexpr Usual kBust[] = {{5.25, 1.6}, {13, 3.4}};
constexpr Usual kBustOverHead[] = {{8.1, 2.8}, {13, 3.4}};
constexpr Usual kWaistSeam[] = {{2.5, 0.9}, {6.5, 1.8}};
constexpr Usual kHip[] = {{5, 1.15}, {11.5, 3.2}};
constexpr Usual kHipGathered[] = {{9, 3}, {14, 4}};
constexpr double kLiningAtBust = 0.5, kLiningAtHip = 1;  // second layer, common practice

/// Rest length of a waist elastic over the waist: 0.88 to 0.95, common practice.
constexpr Usual kElasticShare{0.915, 0.02};

// Lengths. Blouson above an elastic 1.5 to 3 and 1 to 5, above a seam 0 to 1 and 1 to 2.5; length
// over the shoulder 0 to 0.5; underarm below the armpit 0.5 to 2 and 2 to 3.5: common practice.
constexpr Usual kBlousonElastic[] = {{2.25, 0.45}, {3, 1.2}};
constexpr Usual kBlousonSeam[] = {{0.5, 0.3}, {1.75, 0.45}};
constexpr Usual kOverShoulder{0.25, 0.15};
constexpr Usual kArmholeDrop[] = {{1.25, 0.45}, {2.75, 0.6}};

// Armhole: armscye + 1.14 cut-in + 2 to 4; looser ones 4 to 8. Edges inside the creases by 0.5 +
// 0.25 (cut-in - 1) in front and 0.25 cut-in behind, each +- 0.5 (common practice for sleeveless
// bodices); looser ones 0 to 2 further out over the whole width.
constexpr Usual kArmhole[] = {{3, 0.8}, {5.5, 1.2}};
constexpr Usual kEdgesOut[] = {{0, 0.6}, {1, 1}};

// How exactly a flat garment can be read as a body at all. An armhole drawn to scye depth and
// widths misses the armscye with an s.d. of 3.0, half of which the underarm takes up, by 0.4 to 0.7
// downwards on average. A front is raised over its side panel where lengths don't balance within
// published blocks' limits, by 0.65, s.d. 1.1 (all ANSUR 1988 women, derived). Bust shaping left in
// a neckline, at most 4 degrees, turns strap and armhole edge outwards about the bust point. The
// back edge lies further in where the arms reach forward: by half of what the rule of practice
// leaves open. The rest is judgement.
constexpr double kArmscyeRead = 1.5, kLengthRead = 0.5;
constexpr Usual kArmpitLower{0.5, 0.5}, kFrontRaised{0.65, 1.1};
constexpr Usual kFrontEdgeRead{0, 0.8}, kBackEdgeRead{-0.4, 0.8};

constexpr double kSlope = radians(20);  // of published blocks' shoulders
// A strap that neither stands off nor cuts is within 2 degrees; turned by 0 to 4 in front alone.
constexpr Usual kStrapOffSlope{radians(1), radians(2.3)};
constexpr double kNeckRise = 2.0;  // between a British and a Japanese block
constexpr Usual kCutIn{3, 1.5};    // where strap and neckline were not read
constexpr Usual kInset{3, 1.5};

// The bust lies 4.7 below an underarm that was dropped by 1, s.d. 2 (ANSUR 1988 women, derived),
// the side seam is 16 to 17. Bust shaping gathered into the waist adds some 9 to its flat edge,
// half of that where a side dart takes the rest: two half fronts of 15.4 deg over 17 cm.
constexpr Usual kUnderarmAboveBust{4.4, 2};
constexpr double kSide = 16.5;
constexpr double kGathered = 9, kGatheredBesideDart = 4.5;

/// Ease of a knit as a share of the girth, by its stretch: 0 to +5 cm when stable, 0 to -3 % at a
/// quarter, -3 to -7 % at a half, -7 to -15 % when it doubles (common practice).
Usual knit_ease(double stretch) {
  struct Point {
    double stretch;
    Usual ease;
  };
  constexpr std::array kPoints = {Point{0.10, {0.028, 0.016}},
                                  Point{0.25, {-0.015, 0.010}},
                                  Point{0.50, {-0.05, 0.012}},
                                  Point{1.00, {-0.11, 0.023}}};
  if (stretch <= kPoints.front().stretch) return kPoints.front().ease;
  for (size_t i = 1; i < kPoints.size(); ++i) {
    const Point& a = kPoints[i - 1];
    const Point& b = kPoints[i];
    if (stretch > b.stretch) continue;
    const double t = (stretch - a.stretch) / (b.stretch - a.stretch);
    return {a.ease.mean + t * (b.ease.mean - a.ease.mean), a.ease.sd + t * (b.ease.sd - a.ease.sd)};
  }
  return kPoints.back().ease;
}

/// Below this a cloth with some give is cut as a woven one (common practice: under a fifth with
/// elastane).
constexpr double kKnitFrom = 0.1;

class Reader {
 public:
  explicit Reader(const WornTape& garment) : garment_(garment) {
    for (const FlatReading& reading : garment.readings) {
      if (!has_flat(garment.kind, garment.switches, reading.key)) continue;
      if (std::isfinite(reading.value) && reading.error > 0)
        readings_[static_cast<size_t>(reading.key)] = reading;
    }
  }

  std::vector<BodyEvidence> read() {
    read_girths();
    if (garment_.kind == MadeKind::skirt) return std::move(evidence_);
    read_lengths();
    read_armhole();
    read_slope();
    return std::move(evidence_);
  }

 private:
  struct Reading {
    double value = 0, error = 0;
  };

  std::optional<Reading> at(F key) const {
    const auto& reading = readings_[static_cast<size_t>(key)];
    if (!reading) return std::nullopt;
    return Reading{reading->value, reading->error};
  }
  /// Two readings end to end.
  std::optional<Reading> sum(F a, F b) const {
    const auto one = at(a), other = at(b);
    if (!one || !other) return std::nullopt;
    return Reading{one->value + other->value, std::hypot(one->error, other->error)};
  }
  const Usual& usual(const Usual* by_fit) const {
    return by_fit[garment_.fit == WornFit::closely ? 0 : 1];
  }
  bool is_elastic() const { return garment_.switches.is(Switch::waist, "elastic"); }
  bool is_lined() const { return garment_.switches.is(Switch::lining, "lined"); }
  bool is_knit() const { return garment_.stretch >= kKnitFrom; }

  void add(F from, Terms terms, double value, double sd) {
    evidence_.push_back({.terms = std::move(terms),
                         .waist_level = waist_level_of(garment_.switches),
                         .value = value,
                         .sd = sd,
                         .from = std::string(info(from).name)});
  }

  /// A whole girth of cloth with its error says the body's girth, less the ease.
  void add_girth(F from, BodyKey key, Reading girth, Usual woven) {
    Usual ease = woven;
    if (is_knit() && garment_.fit == WornFit::closely) {
      const Usual share = knit_ease(garment_.stretch);
      const double body = girth.value / (1 + share.mean);
      ease = {girth.value - body, std::max(body * share.sd, 0.8)};
    } else if (is_knit()) {
      ease = {5, 2.9};  // 0 to 10: looser than the knit's own ease, common practice
    }
    add(from, {{key, 1}}, girth.value - ease.mean, std::hypot(ease.sd, girth.error));
  }

  static Reading twice(const Reading& half) { return {2 * half.value, 2 * half.error}; }

  void read_girths() {
    if (const auto chest = at(F::chest_width)) read_bust(twice(*chest));
    const auto waist = at(F::waist_width);
    if (waist && !is_elastic())
      add_girth(F::waist_width, B::waist_girth, twice(*waist), usual(kWaistSeam));
    if (const auto rest = at(F::elastic); rest && is_elastic()) {
      const double share = kElasticShare.mean;
      add(F::elastic,
          {{B::waist_girth, 1}},
          rest->value / share,
          std::hypot(rest->error / share, rest->value * kElasticShare.sd / (share * share)));
    }
    if (const auto hip = at(F::hip_width)) {
      Usual ease = usual(is_elastic() ? kHipGathered : kHip);
      if (is_lined()) ease.mean += kLiningAtHip;
      add_girth(F::hip_width, B::hip_girth, twice(*hip), ease);
    }
  }

  /// The chest is read at the underarm and the bust lies below it, where a slanting side seam has
  /// already taken some of it away.
  void read_bust(const Reading& underarm) {
    Usual ease = usual(goes_over_the_head() ? kBustOverHead : kBust);
    if (is_lined()) ease.mean += kLiningAtBust;
    const auto side = at(F::side_seam);
    const double per_cm = 1 / (side ? std::max(side->value, 8.0) : kSide);
    const double narrower = 4 * slant();
    const double loss = narrower * kUnderarmAboveBust.mean * per_cm;
    const double unsure = std::hypot(narrower * kUnderarmAboveBust.sd * per_cm,
                                     at(F::waist_width) ? 0.5 : 0.4 * loss);
    const Reading bust{underarm.value - loss, std::hypot(underarm.error, unsure)};
    add_girth(F::chest_width, B::bust_girth, bust, ease);
  }

  bool goes_over_the_head() const {
    return garment_.switches.is(Switch::put_on, "over the head") && !is_knit();
  }

  /// Underarm less waist, a half front or back, its shaping closed.
  double slant() const {
    const auto chest = at(F::chest_width), waist = at(F::waist_width);
    const double gathered =
        garment_.switches.is(Switch::side_dart, "sewn") ? kGatheredBesideDart : kGathered;
    if (chest && waist) return 0.25 * (2 * chest->value - 2 * waist->value + gathered);
    return 0.25 * (is_elastic() ? gathered : 20 + gathered);
  }

  /// How far in the strap's neck end lies along the shoulder: a number, and what it takes of the
  /// neck base where the opening was read.
  struct Inset {
    double value = kInset.mean, sd = kInset.sd, neck_base = 0;
  };
  Inset inset() const {
    const auto opening = at(F::neck_opening);
    if (!opening) return {};
    // Half the neck is neck base / 5 - 0.5, as blocks have it.
    const double along = 1 / std::cos(kSlope);
    return {along * (0.5 * opening->value + 0.5), along * 0.5 * opening->error, -along / 5};
  }

  void read_lengths() {
    const Usual blouson = usual(is_elastic() ? kBlousonElastic : kBlousonSeam);
    const Inset in = inset();
    const double fall = std::sin(kSlope);
    const double shared = std::hypot(blouson.sd, kOverShoulder.sd, fall * in.sd);
    const auto add_length = [&](F from, BodyKey key, const Usual& rise, const Reading& length) {
      const Usual knit = length_taken_by_stretch(length.value);
      Terms terms{{key, 1}};
      if (in.neck_base != 0) terms.emplace_back(B::neck_base_girth, -fall * in.neck_base);
      add(from,
          std::move(terms),
          length.value - rise.mean - blouson.mean - kOverShoulder.mean + fall * in.value +
              knit.mean,
          std::hypot(std::hypot(shared, knit.sd, rise.sd), length.error, kLengthRead));
    };
    if (const auto front = at(F::front_length))
      add_length(F::front_length, B::front_over_bust, kFrontRaised, *front);
    else if (const auto both = sum(F::centre_front_length, F::neckline_drop))
      add_length(F::centre_front_length, B::front_over_bust, kFrontRaised, *both);
    if (const auto back = at(F::back_length))
      add_length(F::back_length, B::back_waist_length, Usual{kNeckRise, 0}, *back);
    else if (const auto both = sum(F::centre_back_length, F::back_neckline_drop))
      add_length(F::centre_back_length, B::back_waist_length, Usual{kNeckRise, 0}, *both);
    if (const auto side = at(F::side_seam)) {
      const Usual drop = usual(kArmholeDrop);
      const double upright =
          std::sqrt(std::max(side->value * side->value - slant() * slant(), 1.0));
      add(F::side_seam,
          {{B::scye_depth, 1}, {B::back_waist_length, -1}},
          blouson.mean - drop.mean - kArmpitLower.mean - upright,
          std::hypot(std::hypot(blouson.sd, drop.sd), side->error, kArmpitLower.sd));
    }
  }

  /// Vertical ease of a close knit is at most half as negative as that across (common practice): a
  /// quarter, give or take as much, and never read as length that is there too much.
  Usual length_taken_by_stretch(double length) const {
    if (!is_knit() || garment_.fit == WornFit::loosely) return {};
    const double share = 0.25 * std::max(-knit_ease(garment_.stretch).mean, 0.0);
    return {share * length, share * length};
  }

  /// Shoulder length less what strap and neckline leave: terms times `factor`, and what is known.
  struct CutIn {
    Terms terms;
    double known = 0, sd = 0;
  };
  CutIn cut_in(double factor) const {
    const auto width = at(F::strap_width), opening = at(F::neck_opening);
    if (!width || !opening) return {{}, factor * kCutIn.mean, factor * kCutIn.sd};
    const Inset in = inset();
    return {{{B::shoulder_length, factor}, {B::neck_base_girth, -factor * in.neck_base}},
            -factor * (width->value + in.value),
            factor * std::hypot(width->error, in.sd)};
  }

  /// measure + factor * cut-in = reading - more.
  void add_beside_strap(
      F from, BodyKey key, double factor, const Reading& reading, double more, double sd) {
    CutIn cut = cut_in(std::abs(factor));
    const double sign = factor < 0 ? -1 : 1;
    Terms terms{{key, 1}};
    for (const auto& [other, f] : cut.terms) terms.emplace_back(other, sign * f);
    add(from,
        std::move(terms),
        reading.value - more - sign * cut.known,
        std::hypot(reading.error, cut.sd, sd));
  }

  void read_armhole() {
    if (const auto edge = at(F::armhole_edge)) {
      const Usual ease = usual(kArmhole);
      // Bound 5 to 12 % short, of which half stays once it lies flat (common practice).
      const double bound = is_knit() ? 0.04 * edge->value : 0;
      const Reading sewn{edge->value + bound, std::hypot(edge->error, 0.6 * bound)};
      add_beside_strap(F::armhole_edge,
                       B::armscye_girth,
                       1.14,
                       sewn,
                       ease.mean,
                       std::hypot(ease.sd, kArmscyeRead));
    }
    const Usual out = usual(kEdgesOut);
    const auto add_edge = [&](F from, BodyKey key, double inside, const Usual& read) {
      if (const auto edge = at(from))
        add_beside_strap(
            from, key, -0.5, *edge, out.mean + read.mean - inside, std::hypot(out.sd, read.sd));
    };
    add_edge(F::across_front, B::across_front, 0.5, kFrontEdgeRead);
    add_edge(F::across_back, B::across_back, 0, kBackEdgeRead);
  }

  void read_slope() {
    const auto drop = at(F::strap_drop), width = at(F::strap_width);
    if (!drop || !width || !(width->value > 1)) return;
    const double sine = std::clamp(drop->value / width->value, 0.0, 0.7);
    const double per_cm = 1 / (width->value * std::sqrt(1 - sine * sine));
    add(F::strap_drop,
        {{B::shoulder_slope, 1}},
        std::asin(sine) - kStrapOffSlope.mean,
        std::hypot(per_cm * drop->error, per_cm * sine * width->error, kStrapOffSlope.sd));
  }

  const WornTape& garment_;
  std::array<std::optional<FlatReading>, static_cast<size_t>(kFlatKeys)> readings_;
  std::vector<BodyEvidence> evidence_;
};

}  // namespace

bool tells_of_body(FlatKey key) {
  switch (key) {
    case F::chest_width:
    case F::waist_width:
    case F::side_seam:
    case F::front_length:
    case F::back_length:
    case F::centre_front_length:
    case F::centre_back_length:
    case F::neckline_drop:
    case F::back_neckline_drop:
    case F::neck_opening:
    case F::strap_width:
    case F::strap_drop:
    case F::across_front:
    case F::across_back:
    case F::armhole_edge:
    case F::elastic:
    case F::hip_width:
      return true;
    default:
      return false;
  }
}

std::vector<BodyEvidence> evidence_of(const WornTape& garment) { return Reader(garment).read(); }

}  // namespace easewright
