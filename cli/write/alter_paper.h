#pragma once
// What the plan of an alteration is written on: the same words for the terminal and for the page.

#include "cli/write/page.h"

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

class AlterPaper {
 public:
  virtual ~AlterPaper() = default;

  virtual void title(const std::string& text) = 0;
  /// 'CAN BE MADE TO FIT: ', 'in 1 step, 2 h 25 min'.
  virtual void verdict(const std::string& head, const std::string& rest, Tone tone) = 0;
  /// Faults by row, the columns' names first; all rows are of one length.
  virtual void faults(const std::vector<std::vector<std::string>>& rows) = 0;
  /// A lead is one word, 'Believed', and may be empty: then it goes on.
  virtual void paragraph(const std::string& lead, const std::string& text, Tone tone) = 0;
  /// A plan's line; its steps follow where it is told in full.
  virtual void plan(const std::string& lead, const std::string& text, bool in_full) = 0;
  /// `open`: what earlier steps have opened that it needs, or empty.
  virtual void step(int number,
                    const std::string& name,
                    const std::string& open,
                    const std::string& says,
                    const std::string& mark,
                    const std::string& check) = 0;
  virtual void gap() {}
};

}  // namespace easewright
