#pragma once
// Formulas of test-problems.json: x[0].., numbers, + - * / **, sqrt exp log sin cos, parentheses.
//
// ** binds tighter than a sign on its left and is right associative, as in Python. Derivatives by
// jets.

#include "solver/problem.h"

#include <memory>
#include <string>
#include <vector>

namespace easewright::tests {

/// Outputs that are formulas of the variables. Throws std::invalid_argument on a formula it can't
/// read.
std::shared_ptr<const solver::Function> make_formulas(int n, const std::vector<std::string>& texts);

}  // namespace easewright::tests
