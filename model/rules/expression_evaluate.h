#pragma once
// Expression::evaluate over any scalar. It runs in the solver's inner loop: no allocation, and a
// number that follows a jet is applied to it as a number.

#include "model/rules/expression.h"

#include <array>
#include <cassert>
#include <cmath>

namespace easewright {
namespace expression_steps {

/// |x| with its corner rounded over `width`; differs from the exact one by at most `width`.
template <typename T>
T rounded_abs(const T& x, double width) {
  using std::sqrt;
  return sqrt(x * x + width * width);
}

}  // namespace expression_steps

template <int kDepth, typename T>
T Expression::run(const Facts<T>& facts) const {
  using Op = Instruction::Op;
  using expression_steps::rounded_abs;
  std::array<T, static_cast<size_t>(kDepth)> stack;
  size_t n = 0;  // entries on the stack
  const Instruction* const end = code_.data() + code_.size();

  // Pushes a number, or applies it at once where an operation follows that takes it.
  const auto take_number = [&stack, &n, end](const Instruction*& at, double number) {
    switch (at + 1 == end ? Op::number : (at + 1)->op) {
      case Op::add:
        stack[n - 1] = stack[n - 1] + number;
        ++at;
        return;
      case Op::subtract:
        stack[n - 1] = stack[n - 1] - number;
        ++at;
        return;
      case Op::multiply:
        stack[n - 1] = stack[n - 1] * number;
        ++at;
        return;
      case Op::divide:
        stack[n - 1] = stack[n - 1] / number;
        ++at;
        return;
      default:
        stack[n++] = T(number);
    }
  };

  for (const Instruction* at = code_.data(); at != end; ++at) {
    switch (at->op) {
      case Op::number:
        take_number(at, at->number);
        continue;
      case Op::body:
        take_number(at, facts.body[at->index]);
        continue;
      case Op::cloth:
        take_number(at, facts.cloth[at->index]);
        continue;
      case Op::value:
        stack[n++] = facts.values[at->index];
        continue;
      case Op::measure:
        stack[n++] = facts.measures[at->index];
        continue;
      case Op::negate:
        stack[n - 1] = -stack[n - 1];
        continue;
      case Op::abs:
        stack[n - 1] = rounded_abs(stack[n - 1], at->number);
        continue;
      default:
        break;
    }
    const T& b = stack[--n];
    T& a = stack[n - 1];
    switch (at->op) {
      case Op::add:
        a = a + b;
        break;
      case Op::subtract:
        a = a - b;
        break;
      case Op::multiply:
        a = a * b;
        break;
      case Op::divide:
        a = a / b;
        break;
      case Op::min:
        a = 0.5 * (a + b - rounded_abs(T(a - b), at->number));
        break;
      case Op::max:
        a = 0.5 * (a + b + rounded_abs(T(a - b), at->number));
        break;
      default:
        break;
    }
  }
  assert(n == 1);
  return stack[0];
}

template <typename T>
T Expression::evaluate(const Facts<T>& facts) const {
  assert(!code_.empty() && "an empty expression has no value");
  // Two depths, because clearing a stack of wide jets costs as much as the arithmetic on it.
  return depth_ <= 3 ? run<3>(facts) : run<kMostDepth>(facts);
}

}  // namespace easewright
