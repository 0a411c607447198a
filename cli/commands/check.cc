#include "cli/commands/check.h"

#include "cli/commands/judge.h"
#include "model/fit.h"

namespace easewright {

int run_check(const Options& options) {
  return judge(options, Draft::required, [&options](const Catalogue& catalogue, Judged& judged) {
    judged.result = check(*judged.job, catalogue);
    if (has_answer(judged.result))
      judged.doubts = uncertainty(*judged.job, catalogue, judged.result);
    judged.tell_slacks = true;
    judged.tell_all = options.length == Length::all;
  });
}

}  // namespace easewright
