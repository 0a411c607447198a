// What the pattern on paper costs: `cut` as a whole process, with and without its cutting plan,
// beside `fit` of the same job; its parts; and how much of the cloth eight dresses fill by how long
// the search goes on, beside the length that area and width allow. Machines differ and are shared:
// read the ratios.

#include "cli/draw/pattern_book.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "model/fit.h"
#include "model/pattern/cutting.h"
#include "model/pattern/pieces.h"
#include "model/pattern/slip.h"
#include "tests/bench/clock.h"
#include "tests/bench/process.h"
#include "tests/model/demo.h"

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

using bench::quantile;
using bench::thread_cpu_ms;
using tests::demo_job;
using tests::shipped_catalogue;

/// Median of nine runs, in ms of CPU time.
double median_ms(const std::function<void()>& run) {
  std::vector<double> times;
  for (int i = 0; i < 9; ++i) {
    const double from = thread_cpu_ms();
    run();
    times.push_back(thread_cpu_ms() - from);
  }
  return quantile(times, 0.5);
}

void bench_processes(const std::string& folder) {
  const std::string jobs = EASEWRIGHT_SOURCE_DIR "/data/choir/jobs/";
  for (const char* who : {"alto-2", "mezzo-1"}) {
    const std::string job = jobs + who + ".yaml";
    bench::print_process_head();
    bench::print_process("--version, the floor", {"--version"});
    const auto told = [](double ms, double of) {
      std::printf("%32s %8.2f times fit\n", "", ms / of);
    };
    const auto fit = bench::print_process((std::string("fit ") + who + " --no-why").c_str(),
                                          {"fit", job, "--no-why"});
    for (const auto& [what, more] : std::vector<std::pair<const char*, std::vector<std::string>>>{
             {"cut, no plan", {"--no-plan"}},
             {"cut, no plan, one large sheet", {"--no-plan", "--paper", "whole"}},
             {"cut, folded", {"--lay", "folded"}},
             {"cut, single layer", {"--lay", "single"}}}) {
      std::vector<std::string> words = {"cut", job, "--out", folder};
      words.insert(words.end(), more.begin(), more.end());
      told(bench::print_process(what, words).wall, fit.wall);
    }
  }
}

void bench_parts() {
  const Job job = demo_job("choir/jobs/alto-2.yaml");
  const FitResult result = fit(job, shipped_catalogue());
  const std::vector<Piece> pieces = pieces_of(result);
  const draw::PatternBook book = draw::pattern_book(pieces, {}, draw::Paper::a4, false);
  const draw::PatternBook whole = draw::pattern_book(pieces, {}, draw::Paper::whole, false);
  const double fitted = median_ms([&] { fit(job, shipped_catalogue()); });
  std::printf("\n%-32s %8s %8s\n", "parts, alto 2, ms of CPU time", "", "of fit()");
  const std::pair<const char*, std::function<void()>> parts[] = {
      {"fit()", [&] { fit(job, shipped_catalogue()); }},
      {"pieces", [&] { pieces_of(result); }},
      {"seams walked", [&] { seam_pairs(pieces); }},
      {"slip", [&] { slip_of(result, pieces, LengthUnit::cm); }},
      {"laid on A4 sheets", [&] { draw::pattern_book(pieces, {}, draw::Paper::a4, false); }},
      {"PDF of the sheets", [&] { draw::pdf_of(book.pages, {}); }},
      {"SVG", [&] { draw::svg_of(whole.pages.front(), {}); }}};
  for (const auto& [what, run] : parts) {
    const double ms = median_ms(run);
    std::printf("%-32s %8.2f %8.2f\n", what, ms, ms / fitted);
  }
}

/// Seven of the choir and the sample body, all on the choir's bolt.
std::vector<GarmentPieces> eight_dresses() {
  std::vector<GarmentPieces> dresses;
  for (const char* file : {"choir/jobs/soprano-1.yaml",
                           "choir/jobs/soprano-2.yaml",
                           "choir/jobs/mezzo-1.yaml",
                           "choir/jobs/mezzo-2.yaml",
                           "choir/jobs/alto-1.yaml",
                           "choir/jobs/alto-2.yaml",
                           "choir/jobs/alto-3.yaml",
                           "examples/sample.yaml"})
    dresses.push_back({file, pieces_of(fit(demo_job(file), shipped_catalogue()))});
  return dresses;
}

void bench_fill() {
  const std::vector<GarmentPieces> dresses = eight_dresses();
  const Cloth cloth = demo_job("choir/jobs/alto-2.yaml").cloth;
  std::printf("\n%-32s %8s %8s %9s %9s %9s\n",
              "eight dresses, single layer",
              "wall s",
              "layouts",
              "filled %",
              "length m",
              "of bound");
  for (const bool nap : {false, true}) {
    for (const double seconds : {0.25, 0.5, 1.0, 2.0, 4.0}) {
      Cloth laid = cloth;
      laid.nap = nap;
      CuttingOptions how;
      how.seconds = seconds;
      const auto from = std::chrono::steady_clock::now();
      const std::vector<CuttingPlan> plans = cutting_plans(dresses, laid, how);
      const double wall =
          std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
      const NestPlan& plan = plans.front().plan;
      std::printf("%-32s %8.2f %8ld %9.1f %9.2f %9.3f\n",
                  fmt::format("{} s for cloth and lining{}", seconds, nap ? ", nap" : "").c_str(),
                  wall,
                  plan.layouts,
                  100 * plan.filled,
                  plan.length / 100,
                  plan.length / plan.bound);
    }
  }
}

}  // namespace
}  // namespace easewright

int main() {
  using namespace easewright;
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / fmt::format("easewright-bench-{}", ::getpid());
  bench_processes(folder.string());
  std::filesystem::remove_all(folder);
  bench_parts();
  bench_fill();
  return 0;
}
