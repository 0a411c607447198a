#pragma once
// The garment in hand and what was seen at its try-on, two sections of a job:
//
//   made:
//     kind: dress                       # dress, top or skirt alone; as the style has it
//     made for: ../bodies/alto-1.yaml   # a path, or the body as a map; the job's own body
//     wishes: {neckline depth: 12 cm}   # it was cut by, where they differ from the job's
//     flat:                             # read on it lying closed on a table (`list flat`)
//       chest width: 48 cm +- 0.3 cm
//     seams:
//       side: {allowance: 1.5 cm, keep: 0.6 cm}
//     edges: {armhole: bound, hem: turned}
//     holes show: yes                   # a line once stitched stays; as the cloth has it
//   faults:                             # `list faults`
//     front neckline gapes: 2 cm
//     armhole tight: {amount: 1 cm, error: 0.5 cm}

#include "cli/read/job.h"
#include "model/alter/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// How a seam or an edge may be finished: pressed open, turned, overlocked, narrow hem, faced,
/// bound.
const std::vector<std::string>& finish_words();

/// What a seam or an edge that is finished so holds and keeps; nothing where that is as usual.
/// Source: common practice (an overlock leaves no let-out beyond its trim, a faced edge is
/// clipped).
std::optional<Seam> seam_finished(std::string_view finish);

/// What must stay of a seam when it is let out, cm. Source: common practice.
double usual_keep(SeamKey key);

struct LoadedInHand {
  InHand in_hand;
  BodyPlaces made_for;  ///< where its measures stand, if it was made for another body
};

/// Reads both sections of a job that has been read. `vocabulary` has to outlive the answer. Nothing
/// after a complaint.
std::optional<LoadedInHand> read_in_hand(const LoadedJob& loaded,
                                         const Catalogue& catalogue,
                                         const AlterCatalogue& vocabulary,
                                         Complaints& complaints);

}  // namespace easewright
