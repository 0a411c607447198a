#include "solver/starts.h"

#include <algorithm>

namespace easewright::solver {
namespace {

/// Term `index` (from 1) of the van der Corput sequence in a prime base, in (0, 1).
double radical_inverse(int index, int base) {
  double value = 0;
  double share = 1.0 / base;
  for (; index > 0; index /= base, share /= base) value += share * (index % base);
  return value;
}

int next_prime(int after) {
  for (int candidate = after + 1;; ++candidate) {
    bool prime = true;
    for (int d = 2; d * d <= candidate && prime; ++d) prime = candidate % d != 0;
    if (prime) return candidate;
  }
}

/// The first terms of large bases are small together, so each sequence is entered here.
constexpr int kSkipped = 40;

}  // namespace

std::vector<double> further_start(const std::vector<double>& centre,
                                  const std::vector<double>& lower,
                                  const std::vector<double>& upper,
                                  double half,
                                  int index) {
  std::vector<double> u = centre;
  int prime = 1;
  for (std::size_t j = 0; j < u.size(); ++j) {
    prime = next_prime(prime);
    u[j] += half * (2 * radical_inverse(kSkipped + index, prime) - 1);
    u[j] = std::clamp(u[j], lower[j], upper[j]);
  }
  return u;
}

}  // namespace easewright::solver
