#include "text/nearest.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

namespace stickwright {
namespace {

constexpr std::size_t kLongestWord = 100;  // of a longer one only the beginning is compared: the table is its square

std::string lower(std::string_view word) {
  std::string result(word);
  std::transform(result.begin(), result.end(), result.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return result;
}

// How far apart two names are, or -1 when they are not alike.
int unlikeness(const std::string& word, const std::string& name) {
  const int far = edit_distance(word, name);
  const int near = std::max<int>(1, static_cast<int>(std::max(word.size(), name.size())) / 3);
  if (far <= near) return far;
  const bool part = word.size() >= 3 && name.size() >= 3 &&
                    (word.find(name) != std::string::npos || name.find(word) != std::string::npos);
  return part ? near + far : -1;
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  a = a.substr(0, kLongestWord);
  b = b.substr(0, kLongestWord);
  std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i)
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int change = a[i - 1] == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[a.size()][b.size()];
}

std::vector<std::string> nearest_names(std::string_view word, std::span<const std::string> known, std::size_t most) {
  std::vector<std::pair<int, std::string>> near;
  const std::string wanted = lower(word);
  for (const std::string& name : known)
    if (const int far = unlikeness(wanted, lower(name)); far >= 0) near.emplace_back(far, name);
  std::stable_sort(near.begin(), near.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> names;
  for (std::size_t i = 0; i < near.size() && i < most; ++i) names.push_back(near[i].second);
  return names;
}

std::string did_you_mean(std::string_view word, std::span<const std::string> known) {
  const auto near = nearest_names(word, known, 2);
  return near.empty() ? "" : fmt::format(" (did you mean {}?)", quoted_list(near));
}

std::string quoted_list(std::span<const std::string> names, std::string_view last) {
  std::string list;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) list += i + 1 == names.size() ? fmt::format(" {} ", last) : std::string(", ");
    list += '"' + names[i] + '"';
  }
  return list;
}

}  // namespace stickwright
