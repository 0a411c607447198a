#pragma once
// A moves file: alterations of one part of a garment, one entry each.
//
//   group: sides
//   moves:
//     - move: take in the side seams
//       place: both side seams, armhole to hem
//       change: sides in                  # what it does to the cloth: `easewright list changes`
//       least: 0.3 cm                     # less is not worth the unpicking
//       most: 2 cm                        # more spoils the proportions
//       let out of: side                  # most is also what this seam holds less what must stay
//       adds cloth: yes
//       cloth: woven                      # or knit
//       leaves holes: yes                 # the old line shows on sheers, pile and coated cloth
//       lined: dearer                     # same, blocked or dearer, and then
//       lined factor: 1.83                # how many times the minutes
//       minutes: {once: 40, each cm: 8}   # or each deg
//       opens: {hem: 24}                  # of the minutes once; counted once in a plan (optional)
//       order: side seams                 # its place in the order of work
//       when: {skirt: wrapped}
//       says: sew both side seams again {amount} further in on every panel edge
//       mark: ...                         # before anything is unpicked
//       check: ...                        # after it
//       caution: ...                      # optional: care for the wearer
//       source: common practice

#include "cli/read/section.h"
#include "model/alter/moves.h"

#include <string>
#include <vector>

namespace easewright {

/// Adds the file's moves. A name that is among `moves` already is complained of.
void read_moves(const YamlNode& map, const Source& source, std::vector<Move>& moves);

/// The stages of an alteration in the order in which they are done, 'length over the shoulder' to
/// 'hem'. Move::order is ten times the stage's place, from 1.
const std::vector<std::string>& stages_of_work();

/// What may stand in braces in a move's words: amount, half, twice, four times, nothing. Lengths in
/// cm may as well.
const std::vector<std::string>& blanks_of_words();

}  // namespace easewright
