#include "formula.h"

#include <cctype>
#include <cstdlib>
#include <functional>
#include <stdexcept>

#include <ceres/jet.h>

namespace easewright::tests {
namespace {

constexpr int kMostVariables = 16;
using Jet = ceres::Jet<double, kMostVariables>;

struct Node {
  enum class Kind {
    number,
    variable,
    add,
    subtract,
    multiply,
    divide,
    power,
    negate,
    sqrt,
    exp,
    log,
    sin,
    cos
  };
  Kind kind = Kind::number;
  double number = 0;
  int variable = 0;
  std::unique_ptr<Node> left, right;
};
using Kind = Node::Kind;

class Parser {
 public:
  explicit Parser(const std::string& text) : text_(text) {}

  std::unique_ptr<Node> parse() {
    auto node = sum();
    skip();
    if (at_ != text_.size()) fail("something is left over");
    return node;
  }

 private:
  [[noreturn]] void fail(const std::string& why) const {
    throw std::invalid_argument(text_ + ": " + why + " at " + std::to_string(at_));
  }
  void skip() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_]))) ++at_;
  }
  bool eat(const std::string& token) {
    skip();
    if (text_.compare(at_, token.size(), token) != 0) return false;
    if (token == "*" && text_.compare(at_, 2, "**") == 0) return false;
    at_ += token.size();
    return true;
  }
  static std::unique_ptr<Node> join(Kind kind,
                                    std::unique_ptr<Node> left,
                                    std::unique_ptr<Node> right) {
    auto node = std::make_unique<Node>();
    node->kind = kind;
    node->left = std::move(left);
    node->right = std::move(right);
    return node;
  }
  std::unique_ptr<Node> sum() {
    auto node = product();
    for (;;) {
      if (eat("+")) {
        node = join(Kind::add, std::move(node), product());
      } else if (eat("-")) {
        node = join(Kind::subtract, std::move(node), product());
      } else {
        return node;
      }
    }
  }
  std::unique_ptr<Node> product() {
    auto node = sign();
    for (;;) {
      if (eat("*")) {
        node = join(Kind::multiply, std::move(node), sign());
      } else if (eat("/")) {
        node = join(Kind::divide, std::move(node), sign());
      } else {
        return node;
      }
    }
  }
  std::unique_ptr<Node> sign() {
    if (eat("-")) return join(Kind::negate, sign(), nullptr);
    if (eat("+")) return sign();
    auto base = atom();
    if (eat("**")) return join(Kind::power, std::move(base), sign());
    return base;
  }
  std::unique_ptr<Node> atom() {
    skip();
    if (eat("(")) {
      auto node = sum();
      if (!eat(")")) fail("expected )");
      return node;
    }
    if (eat("x[")) {
      auto node = std::make_unique<Node>();
      node->kind = Kind::variable;
      node->variable = static_cast<int>(number());
      if (!eat("]")) fail("expected ]");
      return node;
    }
    for (const auto& [name, kind] : {std::pair{"sqrt", Kind::sqrt},
                                     {"exp", Kind::exp},
                                     {"log", Kind::log},
                                     {"sin", Kind::sin},
                                     {"cos", Kind::cos}}) {
      if (!eat(name)) continue;
      if (!eat("(")) fail("expected (");
      auto node = join(kind, sum(), nullptr);
      if (!eat(")")) fail("expected )");
      return node;
    }
    auto node = std::make_unique<Node>();
    node->number = number();
    return node;
  }
  double number() {
    const char* begin = text_.c_str() + at_;
    char* end = nullptr;
    const double value = std::strtod(begin, &end);
    if (end == begin) fail("expected a number");
    at_ += static_cast<std::size_t>(end - begin);
    return value;
  }

  const std::string& text_;
  std::size_t at_ = 0;
};

bool is_constant(const Node& node) {
  if (node.kind == Kind::variable) return false;
  return (!node.left || is_constant(*node.left)) && (!node.right || is_constant(*node.right));
}

template <typename T>
T value(const Node& node, const T* x) {
  using std::cos, std::exp, std::log, std::pow, std::sin, std::sqrt;
  switch (node.kind) {
    case Kind::number:
      return T(node.number);
    case Kind::variable:
      return x[node.variable];
    case Kind::add:
      return value(*node.left, x) + value(*node.right, x);
    case Kind::subtract:
      return value(*node.left, x) - value(*node.right, x);
    case Kind::multiply:
      return value(*node.left, x) * value(*node.right, x);
    case Kind::divide:
      return value(*node.left, x) / value(*node.right, x);
    case Kind::negate:
      return -value(*node.left, x);
    case Kind::sqrt:
      return sqrt(value(*node.left, x));
    case Kind::exp:
      return exp(value(*node.left, x));
    case Kind::log:
      return log(value(*node.left, x));
    case Kind::sin:
      return sin(value(*node.left, x));
    case Kind::cos:
      return cos(value(*node.left, x));
    case Kind::power:
      break;
  }
  const T base = value(*node.left, x);
  if (!is_constant(*node.right)) return pow(base, value(*node.right, x));
  double exponent = 0;
  if constexpr (std::is_same_v<T, double>) {
    exponent = value(*node.right, x);
  } else {
    exponent = value(*node.right, x).a;
  }
  // Whole powers by multiplication, so that negative bases and zero have derivatives.
  if (exponent == std::round(exponent) && exponent >= 0 && exponent <= 8) {
    T product = T(1.0);
    for (int k = 0; k < static_cast<int>(exponent); ++k) product = product * base;
    return product;
  }
  return pow(base, exponent);
}

class Formulas final : public solver::Function {
 public:
  Formulas(int n, const std::vector<std::string>& texts) : n_(n) {
    if (n > kMostVariables) throw std::invalid_argument("too many variables");
    for (const std::string& text : texts) roots_.push_back(Parser(text).parse());
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    if (!jacobian) {
      for (std::size_t i = 0; i < roots_.size(); ++i) g[i] = value<double>(*roots_[i], x);
      return;
    }
    std::vector<Jet> jets;
    for (int j = 0; j < n_; ++j) jets.emplace_back(x[j], j);
    for (std::size_t i = 0; i < roots_.size(); ++i) {
      const Jet result = value<Jet>(*roots_[i], jets.data());
      g[i] = result.a;
      for (int j = 0; j < n_; ++j)
        jacobian[i * static_cast<std::size_t>(n_) + static_cast<std::size_t>(j)] = result.v[j];
    }
  }

 private:
  int n_;
  std::vector<std::unique_ptr<Node>> roots_;
};

}  // namespace

std::shared_ptr<const solver::Function> make_formulas(int n,
                                                      const std::vector<std::string>& texts) {
  return std::make_shared<Formulas>(n, texts);
}

}  // namespace easewright::tests
