#include "model/body/tables.h"

#include "model/body/cells.h"

#include <cmath>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <fmt/format.h>

namespace easewright {
namespace {

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '"')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '"' || s.back() == '\r')) s.remove_suffix(1);
  return s;
}

std::optional<WaistLevel> level_named(std::string_view name) {
  for (const auto level : {WaistLevel::natural, WaistLevel::iso, WaistLevel::navel})
    if (to_string(level) == name) return level;
  return std::nullopt;
}

double inside_unit(BodyKey key, double value) {
  return info(key).dimension == kAngle ? radians(value) : value;
}
double outside_unit(BodyKey key, double value) {
  return info(key).dimension == kAngle ? degrees(value) : value;
}

std::optional<BodyVariable> variable_of(std::string_view name, std::string_view level) {
  const auto key = find_body_key(name);
  if (!key) return std::nullopt;
  if (!depends_on_waist_level(*key))
    return level.empty() ? std::optional(BodyVariable{.key = *key}) : std::nullopt;
  const auto at = level_named(level);
  if (!at) return std::nullopt;
  return BodyVariable{.key = *key, .level = *at};
}

// Reads line by line; `complaint` is set by the first line that is wrong.
class Reader {
 public:
  void take(std::string_view line) {
    ++line_number_;
    line = trimmed(line);
    if (line.empty() || line.front() == '#') return;
    const auto cells = split(line);
    if (cells[0] == "build") {
      begin_table(cells);
    } else if (!table_) {
      fail("a table starts with 'build,women' or 'build,men'");
    } else if (cells[0] == "source") {
      table_->source = std::string(trimmed(line.substr(line.find(',') + 1)));
    } else if (cells[0] == "variable") {
      return;
    } else if (cells[0] == "correlation") {
      begin_correlation();
    } else if (in_correlation_) {
      take_correlation(cells);
    } else {
      take_variable(cells);
    }
  }

  void finish() {
    if (complaint_.empty() && table_) end_table();
    if (complaint_.empty() && !table_) fail("the text holds no table");
  }

  const std::string& complaint() const { return complaint_; }
  BodyTables tables;

 private:
  void fail(std::string_view why) {
    if (complaint_.empty()) complaint_ = fmt::format("line {}: {}", line_number_, why);
  }

  void begin_table(const std::vector<std::string_view>& cells) {
    if (table_) end_table();
    const std::string_view build = cells.size() == 2 ? cells[1] : std::string_view{};
    table_ = build == "women" ? &tables.women : build == "men" ? &tables.men : nullptr;
    if (!table_) return fail("expected 'build,women' or 'build,men'");
    if (!table_->variables.empty()) return fail(fmt::format("a second table of {}", build));
    in_correlation_ = false;
    rows_ = 0;
  }

  void take_variable(const std::vector<std::string_view>& cells) {
    if (cells.size() != 8)
      return fail(
          "expected eight cells: variable, level, mean, sd, p0.1, p99.9, surveyed mean, surveyed "
          "sd");
    const auto variable = variable_of(cells[0], cells[1]);
    if (!variable)
      return fail(fmt::format("'{}' '{}' is no measure and level", cells[0], cells[1]));
    if (table_->find(*variable) >= 0) return fail(fmt::format("'{}' is there twice", cells[0]));
    if (table_->variables.size() >= kMaxBodyVariables) return fail("more variables than expected");
    const auto mean = number(cells[2]), sd = number(cells[3]);
    const auto low = number(cells[4]), high = number(cells[5]);
    const auto surveyed_mean = number(cells[6]), surveyed_sd = number(cells[7]);
    if (!mean || !sd || !low || !high || !surveyed_mean || !surveyed_sd)
      return fail("expected six numbers");
    if (!(*sd > 0) || !(*surveyed_sd > 0) || !(*low < *high))
      return fail("s.d. must be above 0, p0.1 below p99.9");
    table_->variables.push_back(*variable);
    table_->mean.push_back(inside_unit(variable->key, *mean));
    table_->sd.push_back(inside_unit(variable->key, *sd));
    table_->p01.push_back(inside_unit(variable->key, *low));
    table_->p999.push_back(inside_unit(variable->key, *high));
    table_->surveyed_mean.push_back(inside_unit(variable->key, *surveyed_mean));
    table_->surveyed_sd.push_back(inside_unit(variable->key, *surveyed_sd));
  }

  void begin_correlation() {
    if (in_correlation_ || table_->variables.empty())
      return fail("'correlation' comes after the variables, once");
    in_correlation_ = true;
    const size_t n = table_->variables.size();
    table_->correlation.assign(n * n, 0.0);
    for (size_t i = 0; i < n; ++i) table_->correlation[i * n + i] = 1;
  }

  void take_correlation(const std::vector<std::string_view>& cells) {
    const size_t n = table_->variables.size();
    if (rows_ >= n || cells.size() != rows_ + 1)
      return fail(fmt::format("expected a name and {} correlations", rows_));
    if (find_body_key(cells[0]) != table_->variables[rows_].key)
      return fail("rows of correlations follow the order of the variables");
    for (size_t j = 0; j < rows_; ++j) {
      const auto r = number(cells[j + 1]);
      if (!r || std::abs(*r) >= 1) return fail("a correlation lies between -1 and 1");
      table_->correlation[rows_ * n + j] = table_->correlation[j * n + rows_] = *r;
    }
    ++rows_;
  }

  void end_table() {
    const auto n = table_->variables.size();
    if (rows_ != n || n == 0) return fail("rows of correlations are missing");
    const Eigen::Map<const Eigen::MatrixXd> r(
        table_->correlation.data(), static_cast<Eigen::Index>(n), static_cast<Eigen::Index>(n));
    // Any subset of the variables must have a Cholesky factor: it has when the whole has.
    if (Eigen::LLT<Eigen::MatrixXd>(r).info() != Eigen::Success)
      fail("the correlations are not positive definite");
  }

  std::string complaint_;
  Moments* table_ = nullptr;
  int line_number_ = 0;
  bool in_correlation_ = false;
  size_t rows_ = 0;
};

}  // namespace

std::optional<BodyTables> parse_body_tables(std::string_view text, std::string* error) {
  Reader reader;
  while (!text.empty() && reader.complaint().empty()) {
    const size_t end = text.find('\n');
    reader.take(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  reader.finish();
  if (reader.complaint().empty()) return std::move(reader.tables);
  if (error) *error = reader.complaint();
  return std::nullopt;
}

std::string format_body_table(std::string_view build,
                              const Moments& moments,
                              std::string_view comments) {
  std::string text(comments);
  text += fmt::format(
      "build,{}\nsource,\"{}\"\nvariable,level,mean,sd,p0.1,p99.9,surveyed mean,surveyed sd\n",
      build,
      moments.source);
  const size_t n = moments.variables.size();
  for (size_t i = 0; i < n; ++i) {
    const BodyVariable v = moments.variables[i];
    const auto out = [&](double value) { return outside_unit(v.key, value); };
    text += fmt::format("{},{},{:.3f},{:.4f},{:.1f},{:.1f},{:.3f},{:.4f}\n",
                        spoken(info(v.key).id),
                        depends_on_waist_level(v.key) ? to_string(v.level) : "",
                        out(moments.mean[i]),
                        out(moments.sd[i]),
                        out(moments.p01[i]),
                        out(moments.p999[i]),
                        out(moments.surveyed_mean[i]),
                        out(moments.surveyed_sd[i]));
  }
  text += "correlation\n";
  for (size_t i = 0; i < n; ++i) {
    text += spoken(info(moments.variables[i].key).id);
    for (size_t j = 0; j < i; ++j) text += fmt::format(",{:.4f}", moments.correlation[i * n + j]);
    text += '\n';
  }
  return text;
}

}  // namespace easewright
