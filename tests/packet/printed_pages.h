// printed_pages.h - a packet's pages read back as running text.
#pragma once
#include <cctype>
#include <string>
#include <vector>

#include "packet/printed.h"

namespace stickwright {

// All white space to single spaces.
inline std::string in_one_line(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool space = std::isspace(static_cast<unsigned char>(c)) != 0;
    if (!space) out += c;
    if (space && !out.empty() && out.back() != ' ') out += ' ';
  }
  return out;
}

// The words of each page in the order in which they were drawn.
inline std::vector<std::string> pages_of(const std::string& pdf) {
  const std::string text = printed_by("pdftotext -raw '" + pdf + "' -");
  std::vector<std::string> pages;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = std::min(text.find('\f', from), text.size());
    pages.push_back(in_one_line(text.substr(from, to - from)));
    from = to + 1;
  }
  return pages;
}

// The pages whose title begins so, one after the other.
inline std::string pages_titled(const std::vector<std::string>& pages, const std::string& title) {
  std::string out;
  for (const std::string& p : pages)
    if (p.starts_with(title)) out += p;
  return out;
}

}  // namespace stickwright
