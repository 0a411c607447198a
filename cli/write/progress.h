#pragma once
// How far a long run is, on standard error and on a terminal only: one line that is written over.

#include <chrono>
#include <cstdint>
#include <string>

namespace easewright {

/// '[########............]  532 of 1000, about 3 min to go', at most `width` columns.
std::string progress_line(std::uint64_t done,
                          std::uint64_t all,
                          double seconds_to_go,
                          size_t width);

class Progress {
 public:
  /// `already`: done before this run.
  Progress(std::uint64_t already, std::uint64_t all);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void tell(std::uint64_t done);
  /// Takes the line away, so that something else can be said; the next tell() brings it back.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;
  bool shown_ = false, terminal_ = false;
  std::uint64_t already_, all_;
  Clock::time_point began_, told_;
};

}  // namespace easewright
