#include "text/source.h"

#include <fmt/core.h>

#include <algorithm>

namespace stickwright {
namespace {

constexpr std::size_t kWidestExcerpt = 120;  // characters

// The characters of a line, each with its continuation bytes.
std::vector<std::string_view> characters(std::string_view line) {
  std::vector<std::string_view> result;
  for (std::size_t at = 0; at < line.size();) {
    std::size_t end = at + 1;
    while (end < line.size() && (static_cast<unsigned char>(line[end]) & 0xC0) == 0x80) ++end;
    result.push_back(line.substr(at, end - at));
    at = end;
  }
  return result;
}

std::string excerpt_of(std::string_view line, std::size_t column) {
  const auto all = characters(line);
  const std::size_t first = column > kWidestExcerpt * 2 / 3 ? column - kWidestExcerpt / 2 : 0;
  const std::size_t last = std::min(all.size(), first + kWidestExcerpt);
  std::string shown, under;
  for (std::size_t i = first; i < last; ++i) shown += all[i];
  // A tab stays a tab, so that the caret stands under its character whatever a tab is worth.
  for (std::size_t i = first; i + 1 < column; ++i) under += i < all.size() && all[i] == "\t" ? '\t' : ' ';
  return shown + "\n" + under + "^";
}

}  // namespace

Source make_source(std::string file, std::string_view text) {
  Source source{std::move(file), {}};
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    if (line.ends_with('\r')) line.remove_suffix(1);
    source.lines.emplace_back(line);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return source;
}

Problem problem_at(const Source& source, Place at, std::string code, std::string say) {
  Problem problem{std::move(code), source.file, std::move(say), ""};
  if (at.line < 1 || at.column < 1) return problem;
  problem.where = fmt::format("{}:{}:{}", source.file, at.line, at.column);
  const auto line = static_cast<std::size_t>(at.line) - 1;
  if (line < source.lines.size()) problem.excerpt = excerpt_of(source.lines[line], static_cast<std::size_t>(at.column));
  return problem;
}

}  // namespace stickwright
