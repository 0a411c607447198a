#pragma once
// A small table read with a smooth curve: monotone cubic Hermite (Fritsch & Carlson, SIAM J. Numer.
// Anal. 17, 1980), value and slope continuous, straight on beyond its ends.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace easewright {

class SmoothTable {
 public:
  static constexpr size_t kMost = 8;
  SmoothTable() = default;

  /// Points by rising x, at most kMost of them, at least two.
  void add(double x, double y) {
    x_[size_] = x;
    y_[size_] = y;
    ++size_;
  }

  void finish() {
    std::array<double, kMost> d{};
    for (size_t i = 0; i + 1 < size_; ++i) d[i] = (y_[i + 1] - y_[i]) / (x_[i + 1] - x_[i]);
    m_[0] = d[0];
    m_[size_ - 1] = d[size_ - 2];
    for (size_t i = 1; i + 1 < size_; ++i) {
      m_[i] = d[i - 1] * d[i] <= 0 ? 0 : 2 * d[i - 1] * d[i] / (d[i - 1] + d[i]);
    }
  }

  template <typename T>
  T at(const T& x) const {
    if (x <= T(x_[0])) return y_[0] + m_[0] * (x - x_[0]);
    if (x >= T(x_[size_ - 1])) return y_[size_ - 1] + m_[size_ - 1] * (x - x_[size_ - 1]);
    size_t i = 0;
    while (x > T(x_[i + 1])) ++i;
    const double h = x_[i + 1] - x_[i];
    const T t = (x - x_[i]) / h;
    const T u = 1.0 - t;
    return (1.0 + 2.0 * t) * u * u * y_[i] + t * u * u * (h * m_[i]) +
           t * t * (3.0 - 2.0 * t) * y_[i + 1] - t * t * u * (h * m_[i + 1]);
  }

 private:
  size_t size_ = 0;
  std::array<double, kMost> x_{}, y_{}, m_{};
};

}  // namespace easewright
