#pragma once
// The cut line: every edge of the sew line moved out by its own allowance, and the corners between
// them.
//
//   fold     a fold has no allowance: the neighbour's cut line runs straight to the fold line
//   mirrored at a hem or a casing that turns up, and at a seam that is pressed open before another
//            crosses it: beyond the earlier edge the cut line is the mirror image of what lies
//            inside it, so that the turned or pressed allowance ends just on the raw edge there
//   mitred   everywhere else: both cut lines are carried on to where they meet. Where the edge is
//            square to its neighbour, the two are the same.
//
// Allowances differ from edge to edge, so each edge is moved on its own and the corners are worked
// out here; polyclipping takes the loops out that a bend tighter than its allowance leaves, and
// proves the result simple. No corner is ever cut off at a mitre limit.

#include "model/pattern/piece.h"

namespace easewright {

/// The cut line of a closed sew line; empty where none can be drawn (faults_of says why).
std::vector<Vec2<double>> cut_line_of(const std::vector<PieceEdge>& edges);

/// The edges moved outwards by a distance each (inwards when negative), carried on or cut back to
/// where neighbours meet: a lining's from its cloth's.
std::vector<PieceEdge> moved_edges(const std::vector<PieceEdge>& edges,
                                   const std::vector<double>& distances);

/// What is wrong with a piece, one sentence each; empty when it is sound: edges closed, sew line
/// and cut line simple and counter-clockwise, the cut line outside the sew line, no corner of the
/// cut line running out further than four times the larger allowance beside it.
std::vector<std::string> faults_of(const Piece& piece);

}  // namespace easewright
