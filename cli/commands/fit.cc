#include "cli/commands/fit.h"

#include "cli/commands/judge.h"
#include "model/fit.h"

namespace easewright {
namespace {

/// Cures are rounded to what a tape in the report's unit has: a millimetre, an eighth of an inch.
ExplainOptions explain_options(LengthUnit unit) {
  ExplainOptions options;
  if (unit == LengthUnit::inch) options.round_cm = kCmPerInch / 8;
  return options;
}

}  // namespace

int run_fit(const Options& options) {
  return judge(options, Draft::optional, [&options](const Catalogue& catalogue, Judged& judged) {
    const Job& job = *judged.job;
    judged.sure = options.sure;
    judged.result = options.sure ? fit_surely(job, catalogue, *options.sure) : fit(job, catalogue);
    // One line a job needs no more, unless programs want everything.
    const bool brief = options.length == Length::brief && !options.json && !options.html;
    if (brief || !has_answer(judged.result)) return;
    judged.doubts = uncertainty(job, catalogue, judged.result);
    judged.effects = wish_effects(judged.result);
    judged.tell_effects = options.effects == Effects::told;
    judged.tell_all = judged.tell_slacks = options.length == Length::all;
    if ((options.length != Length::brief || options.html) && options.why == Why::told) {
      judged.why = explain(job, catalogue, judged.result, explain_options(job.unit));
    }
  });
}

}  // namespace easewright
