#pragma once
// Many bodies: a CSV file, a row a body, or a folder of body files (body.h). Read one at a time, so
// that a hundred thousand take no more memory than one. A row that can't be used is handed out all
// the same, with what is wrong with it.

#include "cli/read/body_columns.h"
#include "cli/read/complaint.h"
#include "model/body/body.h"
#include "model/body/estimate.h"

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace easewright {

struct BodyRow {
  std::uint32_t row = 0;         ///< from 1, of those that hold a body
  Body body;                     ///< without a label: 'row 12'
  std::vector<Complaint> wrong;  ///< not empty: the body can't be used

  std::string file;
  Place place;                           ///< of the whole row
  std::array<Place, kBodyKeys> cells{};  ///< of each measure that is given

  /// The model's errors about this body, each with its place.
  std::vector<Complaint> complaints_of(const std::vector<BodyNote>& errors) const;
};

class Bodies {
 public:
  virtual ~Bodies() = default;
  /// False at the end.
  virtual bool next(BodyRow& row) = 0;
  /// Passes over a row.
  virtual bool skip() = 0;
  /// Begins again.
  virtual void rewind() = 0;

  std::uint32_t count() const { return count_; }
  /// Of all bytes of the file or the files: other bodies, another number.
  std::uint64_t hash() const { return hash_; }
  /// What of the columns is not used, in one sentence; empty when all are.
  const std::string& left_out() const { return left_out_; }

 protected:
  std::uint32_t count_ = 0;
  std::uint64_t hash_ = 0;
  std::string left_out_;
};

/// Opens a file or a folder and reads it through once, for its count and its mistakes of form.
/// `same`: what all rows share ('waist level natural'), for a file only. Nothing after a complaint.
std::unique_ptr<Bodies> open_bodies(const std::string& path,
                                    const std::vector<std::string>& same,
                                    Complaints& complaints);

}  // namespace easewright
