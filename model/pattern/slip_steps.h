#pragma once
// What the makers of single steps share. Part of slip.cc.

#include "model/pattern/slip.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace easewright::slips {

/// How the lined bodice is turned right side out.
enum class Turning {
  none,               ///< unlined
  whole_back,         ///< the whole back goes through one strap, one armhole at a time
  half_backs,         ///< each half back through its strap, the centre back open
  straps_closed_last  ///< the straps are too narrow: open until the rest is turned
};

/// Two edges that are sewn together, as they are read off.
struct Mates {
  double first = 0, second = 0;
  double eased = 0;  ///< first less second, as meant
};

struct Sheet {
  const FitResult& result;
  const Frame& frame;
  const std::vector<Piece>& pieces;
  const std::vector<SeamPair> pairs;
  LengthUnit unit;

  double operator[](ValueKey key) const { return result.values[key]; }
  double operator[](MeasureKey key) const { return result.measures[key]; }
  const Piece* piece(const std::string& name) const;  ///< null where there is none
  bool is(Switch which, const char* option) const { return frame.switches.is(which, option); }
  bool side_opening() const { return is(Switch::put_on, "side opening"); }
  bool centre_back_seam() const { return is(Switch::centre_back, "seam"); }
  Turning turning() const;
  /// As read off, either way round; exact lengths where the two are no pair.
  Mates mates(const std::string& first, const std::string& second) const;
  /// Where the notch lies on its piece's seam, from the edge's beginning; nothing where there is
  /// none.
  std::optional<double> notch(const std::string& piece, const std::string& mate) const;
};

/// Lines of one step, figures beside their words.
class StepWriter {
 public:
  explicit StepWriter(std::string title) { step_.title = std::move(title); }

  void work(std::string text, std::vector<SlipFigure> figures = {}) {
    add(SlipLine::Kind::work, std::move(text), std::move(figures));
  }
  void check(std::string text, std::vector<SlipFigure> figures = {}) {
    add(SlipLine::Kind::check, std::move(text), std::move(figures));
  }
  void caution(std::string text, std::vector<SlipFigure> figures = {}) {
    add(SlipLine::Kind::caution, std::move(text), std::move(figures));
  }
  SlipStep step() && { return std::move(step_); }

 private:
  void add(SlipLine::Kind kind, std::string text, std::vector<SlipFigure> figures) {
    step_.lines.push_back({kind, std::move(text), std::move(figures)});
  }

  SlipStep step_;
};

SlipStep cut(const Sheet& s);
SlipStep stay(const Sheet& s);
SlipStep dart(const Sheet& s);
SlipStep straps(const Sheet& s);
SlipStep neck(const Sheet& s);
SlipStep armholes(const Sheet& s);
SlipStep turn(const Sheet& s);
SlipStep centre_back(const Sheet& s);
SlipStep sides(const Sheet& s);

SlipStep hang(const Sheet& s);
SlipStep hem(const Sheet& s);
SlipStep overlap(const Sheet& s);
SlipStep waist(const Sheet& s);
SlipStep casing(const Sheet& s);
SlipStep elastic(const Sheet& s);
SlipStep opening(const Sheet& s);
SlipStep belt(const Sheet& s);
SlipStep care(const Sheet& s);

/// The largest girth that a must asks of the measure, unstretched; 0 where none does.
double least_asked(const FitResult& result, MeasureKey key);

}  // namespace easewright::slips
