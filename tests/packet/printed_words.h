// printed_words.h - the words of a PDF with their places, to look for some that lie on one another.
#pragma once
#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "packet/printed.h"

namespace stickwright {

struct Word {
  double x1, y1, x2, y2;
  std::string text;
};

// The words of each page with their boxes, in points.
inline std::vector<std::vector<Word>> words_of(const std::string& pdf) {
  const std::string xml = printed_by("pdftotext -bbox '" + pdf + "' -");
  const std::regex word(
      "<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">([^<]*)<");
  std::vector<std::vector<Word>> pages;
  std::size_t from = xml.find("<page ");
  while (from != std::string::npos) {
    const std::size_t to = xml.find("<page ", from + 1);
    const std::string part = xml.substr(from, to == std::string::npos ? to : to - from);
    pages.emplace_back();
    for (std::sregex_iterator i(part.begin(), part.end(), word), end; i != end; ++i)
      pages.back().push_back({std::stod((*i)[1]), std::stod((*i)[2]), std::stod((*i)[3]), std::stod((*i)[4]), (*i)[5]});
    from = to;
  }
  return pages;
}

// Boxes of words reach from the highest to the lowest letter that the typeface has; lines may share some of that.
inline bool overlap(const Word& a, const Word& b) {
  const double slack_a = 0.25 * (a.y2 - a.y1), slack_b = 0.25 * (b.y2 - b.y1);
  return std::min(a.x2, b.x2) - std::max(a.x1, b.x1) > 0.5 &&
         std::min(a.y2 - slack_a, b.y2 - slack_b) - std::max(a.y1 + slack_a, b.y1 + slack_b) > 0.3;
}

}  // namespace stickwright
