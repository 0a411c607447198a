#include "cli/commands/explore.h"

#include "cli/read/nearest.h"
#include "cli/read/style.h"

#include <algorithm>

namespace easewright {

std::optional<Judged> fit_to_explore(const Loaded& loaded, Complaints& complaints) {
  const LoadedJob& job = loaded.jobs.front();
  Judged judged;
  judged.file = job.file;
  judged.job = &job.job;
  judged.result = fit(job.job, loaded.catalogue);
  complain_of_body(judged.result.completed.notes, job.places, complaints);
  if (!complaints.empty()) return std::nullopt;
  if (!has_answer(judged.result)) {
    complaints.add(
        job.file,
        {},
        "",
        "the garment can't be computed on this body; a rule or a habit divides by nothing");
    return std::nullopt;
  }
  return judged;
}

bool is_free(ValueKey key, const FitResult& result) {
  const auto& keys = result.posed->keys;
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

std::optional<ValueKey> free_value(const std::string& name,
                                   const Judged& judged,
                                   const Source& source) {
  const auto key = value_named(name, {}, name, source);
  if (!key || is_free(*key, judged.result)) return key;
  const bool has = judged.result.has_value[static_cast<size_t>(*key)];
  source.complain({}, name, has ? "is fixed in this garment" : "this garment has no such value");
  return std::nullopt;
}

}  // namespace easewright
