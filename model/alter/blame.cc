#include "model/alter/blame.h"

#include "model/pose.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using M = MeasureKey;

/// Making tolerances, one s.d. of a garment that nobody measured: a published list of tolerances
/// has 1.3 cm on rounds and 0.6 on lengths; common practice for the armhole and for slopes.
double making_sd(Dimension dimension, bool round) {
  if (dimension == kAngle) return radians(2);
  if (dimension == kRatio) return 0.02;  // an elastic cut a good centimetre off
  return round ? 1.0 : 0.6;
}

bool is_round(M key) {
  return (key >= M::bodice_bust && key <= M::bodice_waist_ease) ||
         (key >= M::skirt_hip && key <= M::skirt_hem);
}

double most_off(Dimension dimension, bool round) {
  return dimension == kAngle ? radians(10) : dimension == kRatio ? 0.08 : round ? 6.0 : 3.0;
}

/// A step that says what a part does, and the least that the fault has to move for it, cm.
double step_of(Dimension dimension) {
  return dimension == kAngle ? radians(1) : dimension == kRatio ? 0.01 : 1.0;
}
double least_gain(Dimension dimension) { return dimension == kLength ? 0.25 : 0.05; }

/// A part of the garment that a fault reads and that may be otherwise than its draft.
struct Part {
  double* off = nullptr;  ///< in the garment
  double gain = 0;        ///< what the fault reads more for each unit of it
  double sd = 0;
  double most = 0;
};

class Blamer {
 public:
  Blamer(const Belief& belief, const std::vector<SeenFault>& faults, Made& made)
      : belief_(belief), faults_(faults), made_(made) {}

  Blame run() {
    find_opposed();
    for (size_t i = 0; i < faults_.size(); ++i) {
      if (is_opposed(i)) continue;
      const double left = left_of(i);
      if (std::abs(left) > faults_[i].error) blame_.any = lay(i, left) || blame_.any;
    }
    return blame_;
  }

 private:
  double left_of(size_t i) const {
    return faults_[i].amount - reading_of(faults_[i], made_, belief_.body);
  }

  /// What the fault says is off whole where no body shows it; else what making tolerances have of
  /// it against the fault's error.
  double share(size_t i, double left, const Part& part) const {
    const double made = part.gain * part.sd, seen = faults_[i].error;
    return std::abs(left) > kExplained * seen ? 1 : made * made / (made * made + seen * seen);
  }

  bool lay(size_t i, double left) {
    if (left > 0 && stretch(i, left)) return true;
    const Part part = part_of(faults_[i]);
    if (part.off == nullptr) return false;
    *part.off =
        std::clamp(*part.off + share(i, left, part) * left / part.gain, -part.most, part.most);
    return true;
  }

  bool stretch(size_t i, double left) {
    for (const auto& [stretched, edge] : {std::pair{&Made::neck_stretched, M::neckline_front},
                                          std::pair{&Made::armhole_stretched, M::armhole_front}}) {
      Part part;
      part.gain = gain_of(faults_[i], &(made_.*stretched), 1);
      if (part.gain < 0.5) continue;
      part.sd = making_sd(kLength, false);
      const double most = 0.05 * wear(made_, made_.cut_for).measures[edge];
      made_.*stretched = std::min(made_.*stretched + share(i, left, part) * left / part.gain, most);
      return true;
    }
    return false;
  }

  /// The first that it reads of measures, then of values.
  Part part_of(const SeenFault& fault) {
    for (const NameKind kind : {NameKind::measure, NameKind::value}) {
      for (const Name& name : fault.kind->reads.names()) {
        if (name.kind != kind) continue;
        const bool measure = kind == NameKind::measure;
        const auto at = static_cast<size_t>(name.index);
        const Dimension dimension = measure ? info(static_cast<M>(name.index)).dimension
                                            : info(static_cast<ValueKey>(name.index)).dimension;
        if (dimension != kLength && dimension != kAngle && dimension != kRatio) continue;
        const bool round = measure && is_round(static_cast<M>(name.index));
        const double step = step_of(dimension);
        Part part;
        part.off = measure ? &made_.sewn_off.at[at] : &made_.values_off.at[at];
        part.most = most_off(dimension, round);
        part.sd = making_sd(dimension, round);
        part.gain = gain_of(fault, part.off, step);
        if (std::abs(part.gain) * step >= least_gain(dimension)) return part;
      }
    }
    return {};
  }

  double gain_of(const SeenFault& fault, double* off, double step) const {
    const double was = *off, before = reading_of(fault, made_, belief_.body);
    *off = was + step;
    const double after = reading_of(fault, made_, belief_.body);
    *off = was;
    return (after - before) / step;
  }

  void find_opposed() {
    for (size_t i = 0; i < faults_.size(); ++i) {
      for (size_t j = i + 1; j < faults_.size(); ++j) {
        const double a = left_of(i), b = left_of(j);
        if (std::abs(a) <= faults_[i].error || std::abs(b) <= faults_[j].error) continue;
        const Part one = part_of(faults_[i]), other = part_of(faults_[j]);
        if (one.off == nullptr || one.off != other.off) continue;
        if ((a / one.gain) * (b / other.gain) < 0)
          blame_.against.emplace_back(static_cast<int>(i), static_cast<int>(j));
      }
    }
  }

  bool is_opposed(size_t i) const {
    return std::any_of(blame_.against.begin(), blame_.against.end(), [i](const auto& pair) {
      return pair.first == static_cast<int>(i) || pair.second == static_cast<int>(i);
    });
  }

  const Belief& belief_;
  const std::vector<SeenFault>& faults_;
  Made& made_;
  Blame blame_;
};

}  // namespace

double reading_of(const SeenFault& fault, const Made& made, const CompleteBody& body) {
  const Frame frame = frame_of(body, made.cloth, made.switches);
  const Worn worn = wear(made, frame);
  return reading_of(*fault.kind, frame, worn);
}

Blame blame_garment(const Belief& belief, const std::vector<SeenFault>& faults, Made& made) {
  return Blamer(belief, faults, made).run();
}

}  // namespace easewright
