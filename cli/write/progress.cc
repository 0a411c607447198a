#include "cli/write/progress.h"

#include "cli/write/page.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

constexpr auto kBetween = std::chrono::milliseconds(200);

std::string time_words(double seconds) {
  if (!(seconds >= 1)) return "";
  if (seconds < 90) return fmt::format(", about {:.0f} s to go", std::ceil(seconds));
  if (seconds < 5400) return fmt::format(", about {:.0f} min to go", std::ceil(seconds / 60));
  return fmt::format(", about {:.0f} h to go", std::ceil(seconds / 3600));
}

}  // namespace

std::string progress_line(std::uint64_t done,
                          std::uint64_t all,
                          double seconds_to_go,
                          size_t width) {
  constexpr std::uint64_t kBar = 20;
  const std::uint64_t full = all == 0 ? kBar : std::min(kBar, done * kBar / all);
  const std::string line = fmt::format("[{}{}]  {} of {}{}",
                                       std::string(full, '#'),
                                       std::string(kBar - full, '.'),
                                       done,
                                       all,
                                       time_words(seconds_to_go));
  return line.substr(0, width);
}

Progress::Progress(std::uint64_t already, std::uint64_t all)
    : terminal_(::isatty(STDERR_FILENO) != 0),
      already_(already),
      all_(all),
      began_(Clock::now()),
      told_(began_) {}

Progress::~Progress() { clear(); }

void Progress::tell(std::uint64_t done) {
  const auto now = Clock::now();
  if (!terminal_ || now - told_ < kBetween) return;
  told_ = now;
  const double seconds = std::chrono::duration<double>(now - began_).count();
  const double own = static_cast<double>(done - already_);
  const double left = own > 0 ? seconds / own * static_cast<double>(all_ - done) : 0;
  // The last column stays free: some terminals wrap when it is filled.
  const size_t width = width_of_terminal(STDERR_FILENO) - 1;
  const std::string line = "\r" + progress_line(done, all_, left, width) + "\x1b[K";
  std::fputs(line.c_str(), stderr);
  shown_ = true;
}

void Progress::clear() {
  if (shown_) std::fputs("\r\x1b[K", stderr);
  shown_ = false;
}

}  // namespace easewright
