#pragma once
// The shipped catalogue and the demo jobs, read as the program reads them.

#include "cli/read/catalogue.h"
#include "cli/read/complaint.h"
#include "cli/read/job.h"
#include "model/job.h"

#include <cstdlib>
#include <string>

namespace easewright::tests {

inline const std::string& shipped_data() {
  static const std::string folder = EASEWRIGHT_SOURCE_DIR "/data";
  return folder;
}

inline const Catalogue& shipped_catalogue() {
  static const Catalogue catalogue = [] {
    Complaints complaints;
    auto read = read_catalogue(shipped_data(), complaints);
    if (!read) std::abort();  // the data files are broken: nothing here can be tested
    return *read;
  }();
  return catalogue;
}

/// A job of data/, 'choir/jobs/alto-2.yaml' or 'examples/sample.yaml', with what the command line
/// would say besides.
inline Job demo_job(const std::string& file, const Overrides& overrides = {}) {
  Complaints complaints;
  auto read =
      read_job(shipped_data() + "/" + file, shipped_data(), overrides, Draft::optional, complaints);
  if (!read) std::abort();
  return read->job;
}

}  // namespace easewright::tests
