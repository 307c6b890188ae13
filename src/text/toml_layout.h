// toml_layout.h - where each header, key and value of a TOML text stands, in bytes: for changing a file in place
// without touching its comments.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace stickwright {

struct TextSpan {
  std::size_t begin = 0, end = 0;  // end: one past
  friend bool operator==(const TextSpan&, const TextSpan&) = default;
};

struct LaidValue {
  TextSpan span;
  char opens = 0;                 // '[' a list, '{' an inline table, else 0
  std::vector<TextSpan> items;    // of a list
  std::vector<bool> comma_after;  // of each item: a comma follows it
};

struct LaidKey {
  std::vector<std::string> path;  // dotted parts as written, without quotes
  std::size_t begin = 0;          // of the key
  LaidValue value;
  std::size_t header = 0;  // index into TomlLayout::headers
};

struct LaidHeader {
  std::vector<std::string> path;
  bool list = false;  // [[...]]
  TextSpan span;
};

struct TomlLayout {
  std::vector<LaidHeader> headers;  // the first stands for what comes before any header: no path, no text
  std::vector<LaidKey> keys;        // in file order; keys inside inline tables are not listed
};

//   returns  nothing where the text is cut short; its place among the bytes is otherwise taken as parse_toml sees it
//   assumes  parse_toml accepts the text
std::optional<TomlLayout> layout_of(std::string_view text);

// The line that a byte lies in, without and with its line end.
TextSpan line_at(std::string_view text, std::size_t at);
TextSpan line_with_end_at(std::string_view text, std::size_t at);

// "\r\n" when the text's first line ends so, else "\n".
std::string_view line_end_of(std::string_view text);

// A text in quotes as TOML writes it.
std::string quoted_toml(std::string_view text);

}  // namespace stickwright
