// toml_node.h - a parsed TOML file as plain values with their places. Private to this room.
#pragma once
#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/result.h"
#include "text/source.h"

namespace stickwright {

struct TomlEntry;

struct TomlNode {
  enum class Kind { text, whole, real, flag, date, clock, other, list, table };
  Kind kind = Kind::table;
  Place at;
  std::string name;  // of a table: "[blade]", "[[rack]] number 2", "the file"
  std::string text;
  std::int64_t whole = 0;
  double real = 0;
  bool flag = false;
  std::chrono::year_month_day date{};
  std::int64_t clock_seconds = 0;
  std::vector<TomlNode> items;
  std::vector<TomlEntry> entries;  // in file order

  const TomlEntry* entry(std::string_view key) const;
};

struct TomlEntry {
  std::string key;
  Place at;
  TomlNode value;
};

//   errors   bad_toml
Result<TomlNode> parse_toml_node(const Source& source, std::string_view text);

}  // namespace stickwright
