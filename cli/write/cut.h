#pragma once
// The summary of `cut`, at most 80 columns: the verdict, what was written, what is cut, which seams
// meet, what to buy.

#include "cli/write/judged.h"
#include "cli/write/page.h"
#include "model/pattern/cutting.h"
#include "model/pattern/pieces.h"

#include <string>
#include <vector>

namespace easewright {

struct CutFile {
  std::string path, about;  ///< '29 sheets of A4'
};

/// One job's pattern.
struct CutGarment {
  Judged judged;
  std::vector<Piece> pieces;
  std::vector<SeamPair> pairs;
  std::vector<std::string> cautions;  ///< sentences
  std::vector<CutFile> files;
  std::string paper;  ///< 'A4'
  size_t sheets = 0;  ///< of the pattern, the first with the test square among them
};

struct CutOut {
  std::vector<CutGarment> garments;  ///< of one all is told, of several what differs
  std::vector<CuttingPlan> plans;    ///< empty where none was asked for
  std::vector<CutFile> files;        ///< the plan's
};

/// A job that has no answer has no pieces and no files either.
std::string write_cut(const CutOut& cut, Colour colour);

}  // namespace easewright
