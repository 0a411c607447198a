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

struct CutOut {
  const Judged* judged = nullptr;
  std::vector<Piece> pieces;
  std::vector<SeamPair> pairs;
  std::vector<CuttingPlan> plans;  ///< empty where none was asked for
  struct File {
    std::string path, about;  ///< 'a4, 29 sheets'
  };
  std::vector<File> files;
  std::vector<std::string> cautions;  ///< sentences
};

std::string write_cut(const CutOut& cut, Colour colour);

}  // namespace easewright
