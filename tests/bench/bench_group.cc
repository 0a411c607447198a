// What a group costs: 1,000 open bodies (ANSUR 1988 women; drawn from the shipped tables where no
// survey is at hand) in the choir's dress, unexplained and explained, on one thread and on two; and
// up to 100,000 that are drawn from the tables, for time a body and memory. Whole processes, rows
// into a folder. The least of several runs, since machines are shared; 'alone' is the wall time
// less what the threads waited for a core, and what the ratios are of.

#include "model/group/member.h"
#include "tests/bench/clock.h"
#include "tests/model/demo.h"
#include "tests/model/invented.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace easewright {
namespace {

using bench::thread_cpu_ms;
using tests::demo_job;
using tests::shipped_catalogue;

constexpr std::uint64_t kSeed = 20260601;

struct Cost {
  double wall_s = 0, cpu_s = 0, peak_mb = 0;
  double idle_s = 0;  ///< wall, less what its threads waited for a core: as on an idle machine
};

/// What the threads of a process have waited for a core so far, the least of any, in seconds: Linux
/// keeps it beside what each has run. 0 where it can't be read.
double waited_s(pid_t process) {
  double least = -1;
  std::error_code error;
  const std::filesystem::path tasks = "/proc/" + std::to_string(process) + "/task";
  for (std::filesystem::directory_iterator it(tasks, error), end; !error && it != end;
       it.increment(error)) {
    std::ifstream in(it->path() / "schedstat");
    double ran = 0, waited = 0;
    if (in >> ran >> waited && (least < 0 || waited < least)) least = waited;
  }
  return std::max(0.0, 1e-9 * least);
}

/// Runs the program once.
Cost run(const std::vector<std::string>& arguments) {
  std::vector<char*> argv;
  for (const std::string& a : arguments) argv.push_back(const_cast<char*>(a.c_str()));
  argv.push_back(nullptr);
  const auto from = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    const int silent = open("/dev/null", O_WRONLY);
    dup2(silent, STDOUT_FILENO);
    dup2(silent, STDERR_FILENO);
    execv(EASEWRIGHT_PROGRAM, argv.data());
    _exit(127);
  }
  int status = 0;
  rusage used{};
  double waited = 0;
  while (wait4(child, &status, WNOHANG, &used) == 0) {
    waited = std::max(waited, waited_s(child));
    usleep(5000);
  }
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 2) {
    std::printf("the program failed\n");
    std::exit(1);
  }
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  const double wall =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
  return {wall,
          seconds(used.ru_utime) + seconds(used.ru_stime),
          static_cast<double>(used.ru_maxrss) / 1024,
          wall - waited};
}

class Bench {
 public:
  Bench()
      : folder_(std::filesystem::temp_directory_path() / ("group-" + std::to_string(getpid()))) {
    std::filesystem::create_directories(folder_);
  }
  ~Bench() { std::filesystem::remove_all(folder_); }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  std::string write(const std::string& name, const std::vector<Body>& bodies) const {
    const std::string path = folder_ / name;
    std::ofstream(path, std::ios::binary) << tests::table_of(bodies);
    return path;
  }

  /// Bodies drawn from the shipped tables, a thousand at a time: a process that is started counts
  /// the peak of the one that starts it as its own.
  std::string write_drawn(const std::string& name, size_t count) const {
    const std::string path = folder_ / name;
    std::ofstream out(path, std::ios::binary);
    for (size_t from = 0; from < count; from += 1000) {
      const std::string table =
          tests::table_of(tests::invented_women(shipped_catalogue().bodies, 1000, kSeed + from));
      size_t rows = 0;  // where they begin, below what all share and the columns' names
      for (int line = 0; line < 5; ++line) rows = table.find('\n', rows) + 1;
      out << (from == 0 ? table : table.substr(rows));
    }
    return path;
  }

  /// One run into a fresh folder.
  Cost group(const std::string& bodies, std::vector<std::string> more) const {
    const std::string out = folder_ / "out";
    std::filesystem::remove_all(out);
    std::vector<std::string> words = {"easewright", "group", kJob, bodies, "--brief", "--out", out};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }

 private:
  const std::string kJob = EASEWRIGHT_SOURCE_DIR "/data/choir/jobs/alto-2.yaml";
  std::filesystem::path folder_;
};

/// Least wall and CPU time of the runs, largest peak.
void least(Cost& best, const Cost& cost, bool first) {
  best.wall_s = first ? cost.wall_s : std::min(best.wall_s, cost.wall_s);
  best.idle_s = first ? cost.idle_s : std::min(best.idle_s, cost.idle_s);
  best.cpu_s = first ? cost.cpu_s : std::min(best.cpu_s, cost.cpu_s);
  best.peak_mb = std::max(best.peak_mb, cost.peak_mb);
}

void print(const char* what, size_t bodies, const Cost& cost, double than) {
  std::printf("%-28s %8zu %8.2f %8.2f %8.2f %9.3f %8.1f",
              what,
              bodies,
              cost.wall_s,
              cost.idle_s,
              cost.cpu_s,
              1e3 * cost.cpu_s / static_cast<double>(bodies),
              cost.peak_mb);
  if (than > 0) std::printf("   %.2f times", than);
  std::printf("\n");
}

void bench_threads(const Bench& bench, const std::string& bodies, size_t count, int rounds) {
  const std::vector<std::string> plain = {"--no-why"};
  for (const bool explained : {false, true}) {
    Cost one, two;
    for (int i = 0; i < rounds; ++i) {
      std::vector<std::string> words = explained ? std::vector<std::string>{} : plain;
      words.insert(words.end(), {"--threads", "1"});
      least(one, bench.group(bodies, words), i == 0);
      words.back() = "2";
      least(two, bench.group(bodies, words), i == 0);
    }
    print(explained ? "explained, one thread" : "unexplained, one thread", count, one, 0);
    print(explained ? "explained, two threads" : "unexplained, two threads",
          count,
          two,
          one.idle_s / two.idle_s);
  }
}

void bench_size(const Bench& bench, size_t most) {
  double first = 0;
  for (size_t count = 1000; count <= most; count *= 10) {
    const std::string bodies = bench.write_drawn("drawn.csv", count);
    const Cost cost = bench.group(bodies, {"--no-why"});
    const double each = cost.cpu_s / static_cast<double>(count);
    if (count == 1000) first = each;
    print("drawn, unexplained", count, cost, each / first);
  }
}

/// Whether a solve may begin at another body's answer: how much it saves, and how many answers it
/// changes.
void bench_neighbours(const std::vector<Body>& bodies) {
  Job job = demo_job("choir/jobs/alto-2.yaml");
  const Catalogue& catalogue = shipped_catalogue();
  std::vector<FitResult> alone;
  double alone_ms = 0, beside_ms = 0;
  for (const Body& body : bodies) {
    job.body = body;
    const double from = thread_cpu_ms();
    alone.push_back(fit(job, catalogue));
    alone_ms += thread_cpu_ms() - from;
  }
  // The nearest by bust, hip and stature among all others: more than a run could know.
  const auto far = [&bodies](size_t a, size_t b) {
    double sum = 0;
    for (const BodyKey key : {BodyKey::bust_girth, BodyKey::hip_girth, BodyKey::stature}) {
      const double d = bodies[a][key]->value - bodies[b][key]->value;
      sum += d * d;
    }
    return sum;
  };
  int other = 0, missed_more = 0, counted = 0;
  for (size_t i = 0; i < bodies.size(); ++i) {
    size_t nearest = i == 0 ? 1 : 0;
    for (size_t j = 0; j < bodies.size(); ++j)
      if (j != i && far(i, j) < far(i, nearest)) nearest = j;
    if (alone[nearest].outcome.x.size() != alone[i].outcome.x.size()) continue;
    job.body = bodies[i];
    const double from = thread_cpu_ms();
    const FitResult beside = fit(
        job, catalogue, {.opener = solver::Opener::none, .warm_start = &alone[nearest].outcome.x});
    beside_ms += thread_cpu_ms() - from;
    double most = 0;
    for (size_t v = 0; v < kValueKeys; ++v)
      most = std::max(most, std::abs(beside.values.at[v] - alone[i].values.at[v]));
    other += most > 0.05;
    for (size_t level = 0; level < 3; ++level) {
      const double more = beside.outcome.total[level] - alone[i].outcome.total[level];
      if (std::abs(more) > 0.01) {
        missed_more += more > 0;
        break;
      }
    }
    ++counted;
  }
  std::printf(
      "\nbegun at the nearest body's answer: %d bodies, %.2f of the time; %d drafts differ by "
      "over 0.5 mm, %d miss more\n",
      counted,
      beside_ms / alone_ms,
      other,
      missed_more);
}

}  // namespace
}  // namespace easewright

/// bench_group [most bodies] [rounds]
int main(int argc, char** argv) {
  using namespace easewright;
  const size_t most = argc > 1 ? std::strtoul(argv[1], nullptr, 10) : 100000;
  const int rounds = argc > 2 ? std::atoi(argv[2]) : 5;
  std::vector<Body> bodies = survey_women_1988();
  if (bodies.size() < 1000) {
    std::printf("no survey: bodies drawn from the shipped tables\n");
    bodies = tests::invented_women(shipped_catalogue().bodies, 1000, kSeed);
  }
  bodies.resize(1000);
  for (Body& body : bodies)
    if (const size_t comma = body.label.find(','); comma != std::string::npos)
      body.label[comma] = ' ';
  const Bench bench;
  const std::string table = bench.write("bodies.csv", bodies);
  std::printf("%-28s %8s %8s %8s %8s %9s %8s\n",
              "rows into a folder",
              "bodies",
              "wall s",
              "alone s",
              "CPU s",
              "ms each",
              "peak MB");
  bench_threads(bench, table, bodies.size(), rounds);
  bench_size(bench, most);
  bench_neighbours(bodies);
  return 0;
}
