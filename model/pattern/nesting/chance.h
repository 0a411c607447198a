#pragma once
// Random numbers that are the same with every standard library.

#include <cstddef>
#include <cstdint>
#include <random>

namespace easewright::nesting {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  size_t below(size_t n) { return static_cast<size_t>(engine_() % n); }
  double unit() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }

 private:
  std::mt19937_64 engine_;
};

}  // namespace easewright::nesting
