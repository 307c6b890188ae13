// source.h - the text of a file that a maker wrote, and places in it that a message can point at.
#pragma once
#include <compare>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// Line and column, counted from 1, the column in characters; 0 where there is no place.
struct Place {
  int line = 0, column = 0;
  friend constexpr auto operator<=>(Place, Place) = default;
};

struct Source {
  std::string file;  // as the maker named it
  std::vector<std::string> lines;
};

//   text     UTF-8; lines end in LF or CRLF
Source make_source(std::string file, std::string_view text);

// A problem at a place: `where` is "shop.toml:12:9", `excerpt` the line with a caret under the column.
// Of a very long line, only the part around the column.
Problem problem_at(const Source& source, Place at, std::string code, std::string say);

}  // namespace stickwright
