#include "model/group/sizes.h"

#include "solver/median.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <map>
#include <numeric>

#include <tbb/parallel_for.h>

namespace easewright {
namespace {

/// A wearer's rules depend on the draft by its switches alone: how it goes on, whose build.
class Wearer {
 public:
  Wearer(const Job& job, const Body& body, const Catalogue& catalogue)
      : job_(job), body_(body), catalogue_(catalogue) {}

  /// Null where the body is impossible.
  const std::shared_ptr<const Posed>& in(const SizeDraft& draft) {
    const auto [at, fresh] = posed_.try_emplace(draft.switches.at);
    if (fresh) at->second = pose_wearer(job_, body_, draft.switches, catalogue_);
    return at->second;
  }

 private:
  const Job& job_;
  const Body& body_;
  const Catalogue& catalogue_;
  std::map<std::array<int, kSwitches>, std::shared_ptr<const Posed>> posed_;
};

class Choosing {
 public:
  Choosing(const Job& job,
           const std::vector<Body>& bodies,
           const MadeHow& how,
           const Catalogue& catalogue,
           const AlterCatalogue& vocabulary,
           const SizesOptions& options)
      : job_(job),
        bodies_(bodies),
        how_(how),
        catalogue_(catalogue),
        vocabulary_(vocabulary),
        options_(options),
        serve_{.minutes_per_miss = options.minutes_per_miss,
               .most_minutes = options.own_minutes,
               .round_cm = options.round_cm} {}

  Sizes run() {
    draft_all();
    if (possible_.empty()) return std::move(result_);
    weigh_all();
    choose();
    assign();
    return std::move(result_);
  }

 private:
  /// The candidates' drafts; who is possible is found of all.
  void draft_all() {
    std::vector<char> possible(bodies_.size(), 0);
    std::vector<std::optional<SizeDraft>> drafts(bodies_.size());
    const size_t every = stride();
    tbb::parallel_for(size_t{0}, bodies_.size(), [&](size_t i) {
      Job own = job_;
      own.body = bodies_[i];
      own.label = bodies_[i].label;
      // Limits that hang on the body and leave it no room.
      if (!job_.style.overrides.empty() && !crossed_limits(own, catalogue_).empty()) return;
      if (i % every != 0) {
        // Whether it can be worn at all is a matter of its measures.
        possible[i] = !has_error(
            complete(bodies_[i], waist_level_of(job_.style.switches), catalogue_.bodies));
        return;
      }
      const FitResult drafted = fit(own, catalogue_);
      if (drafted.posed == nullptr || drafted.outcome.status == solver::Status::not_finite) return;
      possible[i] = 1;
      drafts[i] = size_draft(own, drafted, how_, vocabulary_);
    });
    for (size_t i = 0; i < bodies_.size(); ++i) {
      (possible[i] != 0 ? possible_ : result_.refused).push_back(static_cast<int>(i));
      if (!drafts[i]) continue;
      candidates_.push_back(static_cast<int>(i));
      drafts_.push_back(std::move(*drafts[i]));
    }
    result_.candidates = drafts_.size();
  }

  /// Every so many bodies are candidates.
  size_t stride() const {
    const auto n = static_cast<long>(bodies_.size());
    const long most = std::max(options_.most_pairs / std::max(n, 1L), 1L);
    return static_cast<size_t>((n + most - 1) / most);
  }

  double priced(double cost) const { return std::min(cost, options_.own_minutes); }

  /// What each body costs in each draft.
  void weigh_all() {
    const size_t m = drafts_.size(), n = possible_.size();
    result_.planned =
        std::clamp<size_t>(static_cast<size_t>(options_.most_plans) / n, std::min<size_t>(8, m), m);
    result_.all_planned = result_.planned == m;
    cost_.assign(m * n, options_.own_minutes);
    tbb::parallel_for(size_t{0}, n, [&](size_t j) {
      const int body = possible_[j];
      Wearer wearer(job_, bodies_[static_cast<size_t>(body)], catalogue_);
      std::vector<std::pair<double, size_t>> near;
      for (size_t i = 0; i < m; ++i) {
        if (candidates_[i] == body) {
          cost_[i * n + j] = 0;
        } else if (const auto& posed = wearer.in(drafts_[i])) {
          near.emplace_back(felt_on(drafts_[i], job_, *posed), i);
        }
      }
      std::sort(near.begin(), near.end());
      near.resize(std::min(near.size(), result_.planned));
      for (const auto& [felt, i] : near) {
        cost_[i * n + j] =
            felt > 0 ? priced(serve(drafts_[i], job_, wearer.in(drafts_[i]), serve_).cost) : 0;
      }
      if (options_.done != nullptr) ++*options_.done;
    });
  }

  void choose() {
    solver::MedianProblem problem;
    problem.centres = static_cast<int>(drafts_.size());
    problem.points = static_cast<int>(possible_.size());
    problem.open = std::min(options_.count, problem.centres);
    problem.cost = std::move(cost_);
    // A node costs as the matrix is large: in all, seconds.
    const auto entries = static_cast<double>(problem.cost.size());
    const int nodes = std::clamp(static_cast<int>(5e7 / entries), 20, 5000);
    const solver::Median best = solver::median(problem, {.most_nodes = nodes});
    chosen_ = best.open;
    for (const int i : chosen_) result_.drafts.push_back(candidates_[static_cast<size_t>(i)]);
    result_.cost = best.cost;
    result_.bound = best.bound;
    result_.proved = best.proved;
  }

  /// Each body in all chosen drafts, planned to the end: the best of them serves it.
  void assign() {
    result_.bodies.resize(possible_.size());
    tbb::parallel_for(size_t{0}, possible_.size(), [&](size_t j) {
      SizedBody& sized = result_.bodies[j];
      sized.body = possible_[j];
      Wearer wearer(job_, bodies_[static_cast<size_t>(sized.body)], catalogue_);
      for (size_t d = 0; d < chosen_.size(); ++d) {
        if (result_.drafts[d] != sized.body) continue;
        sized.draft = static_cast<int>(d);
        sized.is_draft = true;
        return;
      }
      for (size_t d = 0; d < chosen_.size(); ++d) {
        const SizeDraft& draft = drafts_[static_cast<size_t>(chosen_[d])];
        const auto& posed = wearer.in(draft);
        if (posed == nullptr) continue;
        Serving serving = serve(draft, job_, posed, serve_);
        if (sized.draft >= 0 && serving.cost >= sized.serving.cost) continue;
        sized.draft = static_cast<int>(d);
        sized.serving = std::move(serving);
      }
      sized.needs_own = sized.draft < 0 || sized.serving.cost >= options_.own_minutes;
    });
  }

  const Job& job_;
  const std::vector<Body>& bodies_;
  const MadeHow& how_;
  const Catalogue& catalogue_;
  const AlterCatalogue& vocabulary_;
  const SizesOptions& options_;
  const ServeOptions serve_;
  std::vector<int> possible_, candidates_;  ///< places in the group
  std::vector<SizeDraft> drafts_;           ///< of the candidates
  std::vector<double> cost_;                ///< by candidate, then by possible body
  std::vector<int> chosen_;                 ///< places among the candidates
  Sizes result_;
};

}  // namespace

Sizes sizes(const Job& job,
            const std::vector<Body>& bodies,
            const MadeHow& how,
            const Catalogue& catalogue,
            const AlterCatalogue& vocabulary,
            const SizesOptions& options) {
  assert(options.count >= 1);
  return Choosing(job, bodies, how, catalogue, vocabulary, options).run();
}

}  // namespace easewright
