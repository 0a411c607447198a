#pragma once
// What goes with what: two values over a grid, and at each point whether everything else can hold.
//
// Each row of the grid is a chain: it begins at the column nearest the answer, goes outwards both
// ways, and each point starts from its neighbour's point and working set. Rows don't know of each
// other, so they run in parallel and the map is the same to the last byte on any number of threads.

#include "solver/outcome.h"
#include "solver/problem.h"
#include "solver/reach.h"

#include <vector>

namespace easewright::solver {

/// One side of the grid: `count` values from `from` to `to`, both included.
struct Axis {
  Value value;
  double from = 0, to = 0;
  int count = 48;

  double at(int k) const { return count == 1 ? from : from + (to - from) * k / (count - 1); }
};

struct MapQuery {
  Axis across, down;
  std::vector<int> let_go;  ///< outputs that take no part: wishes about the two values themselves
  int threads = 0;          ///< 0: as many as the machine has, which is also the most
};

struct Cell {
  bool holds = false;
  int missed = -1;  ///< of the strongest level that is missed, the output with the largest miss; -1
                    ///< when all holds
  double miss = 0;  ///< of that output, signed, in its own unit
  bool reached = true;  ///< false when the point itself can't be set (an axis that is an output) or
                        ///< isn't finite
};

struct Map {
  int across = 0, down = 0;
  std::vector<Cell> cells;  ///< by rows

  const Cell& at(int column, int row) const {
    return cells[static_cast<std::size_t>(row) * static_cast<std::size_t>(across) +
                 static_cast<std::size_t>(column)];
  }
};

/// From the answer of a solve.
Map find_map(const Problem& problem, const Outcome& outcome, const MapQuery& query);

}  // namespace easewright::solver
