#include "cli/read/nearest.h"

#include <algorithm>

namespace easewright {
namespace {

std::string plain(std::string_view word) {
  std::string text;
  for (const char c : word) {
    if (c == '.' || c == '_' || c == '-') {
      text += ' ';
    } else {
      text += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  return text;
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  std::vector<int> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (size_t j = 0; j <= b.size(); ++j) last[j] = static_cast<int>(j);
  for (size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (size_t j = 1; j <= b.size(); ++j) {
      const int same = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + same});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

std::string nearest(std::string_view typed, const std::vector<std::string>& words) {
  // Longer than any word of ours: not a slip of the finger, and the distance is quadratic.
  if (typed.size() > 80) return {};
  const int allowed = std::min(1 + static_cast<int>(typed.size()) / 5, 4);
  std::string best;
  int least = allowed + 1;
  for (const std::string& word : words) {
    const int distance = edit_distance(plain(typed), plain(word));
    if (distance >= least) continue;
    least = distance;
    best = word;
  }
  return best;
}

std::string suggestion(std::string_view typed, const std::vector<std::string>& words) {
  const std::string word = nearest(typed, words);
  return word.empty() ? "" : " (did you mean '" + word + "'?)";
}

}  // namespace easewright
