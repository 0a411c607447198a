#pragma once
// Random choices of moves, for the tests and the benchmark.

#include "solver/choice.h"

#include <random>

namespace easewright::tests {

struct RandomChoice {
  int moves = 8;
  int outputs = 10;
  int shared = 0;   ///< works that three moves each share
  double bend = 0;  ///< amplitude of what is curved; tolerances are 0.1 to 0.3
  int work = 0;     ///< sines that an evaluation takes besides, to make it as dear as wanted
};

/// g_i = a_i'x + bend (cos(b_i'x) - 1) with intervals round its values at a hidden plan; every so
/// often one is shifted, so that not all can be met, and every fourth move has a move that it
/// excludes.
solver::ChoiceProblem random_choice(const RandomChoice& kind, std::mt19937& random);

}  // namespace easewright::tests
