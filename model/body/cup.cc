#include "model/body/cup.h"

#include <cmath>

namespace easewright {
namespace {

int nearest_band(double underbust_cm) {
  // Half-way goes down, as a band stretches: 82.5 is still an 80.
  return 5 * static_cast<int>(std::ceil(underbust_cm / 5 - 0.5));
}

std::string letter(int class_number) {  // 0 is A
  if (class_number > 25) return {};
  return std::string(1, static_cast<char>('A' + class_number));
}

}  // namespace

Cup en_cup(double bust_cm, double underbust_cm) {
  const double difference = bust_cm - underbust_cm;
  Cup result{.cup = {}, .band_cm = nearest_band(underbust_cm)};
  if (difference > 12)
    result.cup = letter(static_cast<int>(std::ceil((difference - 12) / 2)) - 1);
  else if (difference > 10)
    result.cup = "AA";
  return result;
}

Cup japanese_cup(double bust_cm, double underbust_cm) {
  const double difference = bust_cm - underbust_cm;
  Cup result{.cup = {}, .band_cm = nearest_band(underbust_cm)};
  const int step = static_cast<int>(std::lround((difference - 10) / 2.5));
  if (step >= 0)
    result.cup = letter(step);
  else if (step == -1)
    result.cup = "AA";
  else if (step == -2)
    result.cup = "AAA";
  return result;
}

}  // namespace easewright
