#pragma once
// The program as a whole process: start, files, work, report.

#include "tests/bench/clock.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace easewright::bench {

struct ProcessTimes {
  double cpu = 0, wall = 0, wall_p95 = 0;  ///< ms: medians, and the wall's 95 %
  double peak_mb = 0;
};

/// Of so many runs, nothing of which is shown; all 0 where the program failed.
inline ProcessTimes time_process(const std::vector<std::string>& arguments, int runs = 20) {
  std::vector<double> wall, cpu;
  ProcessTimes times;
  std::vector<std::string> words = {"easewright"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  for (int i = 0; i < runs; ++i) {
    std::vector<char*> argv;
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    std::fflush(nullptr);  // or the child would print it all again
    const auto from = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child == 0) {
      if (std::freopen("/dev/null", "w", stdout) == nullptr) _exit(127);
      execv(EASEWRIGHT_PROGRAM, argv.data());
      _exit(127);
    }
    int status = 0;
    rusage usage{};
    if (child < 0 || wait4(child, &status, 0, &usage) != child || !WIFEXITED(status) ||
        WEXITSTATUS(status) > 1)
      return {};
    wall.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - from).count());
    const auto ms = [](const timeval& t) {
      return 1e3 * static_cast<double>(t.tv_sec) + 1e-3 * static_cast<double>(t.tv_usec);
    };
    cpu.push_back(ms(usage.ru_utime) + ms(usage.ru_stime));
    times.peak_mb = std::max(times.peak_mb, static_cast<double>(usage.ru_maxrss) / 1024);
  }
  times.cpu = quantile(cpu, 0.5);
  times.wall = quantile(wall, 0.5);
  times.wall_p95 = quantile(wall, 0.95);
  return times;
}

inline void print_process_head() {
  std::printf(
      "\n%-32s %8s %8s %8s %9s\n", "as a process, 20 runs, ms", "CPU", "wall", "p95", "peak MB");
}

inline ProcessTimes print_process(const char* what, const std::vector<std::string>& arguments) {
  const ProcessTimes t = time_process(arguments);
  if (t.wall == 0) {
    std::printf("%s: the program failed\n", what);
  } else {
    std::printf("%-32s %8.1f %8.1f %8.1f %9.1f\n", what, t.cpu, t.wall, t.wall_p95, t.peak_mb);
  }
  return t;
}

}  // namespace easewright::bench
