// reading.h - values that both the shop file and the batch file hold. Private to this room.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "shop/shop.h"
#include "text/toml_reader.h"

namespace stickwright {

inline constexpr LengthRange kStickSection{Mm{3}, Mm{100}};

// The value of a key that may be left out; `get` is one of Table's getters.
template <class T, class Range>
std::optional<T> if_there(const Table& t, std::string_view key, T (Table::*get)(std::string_view, Range) const,
                          Range range) {
  if (!t.has(key)) return {};
  return (t.*get)(key, range);
}

// The species' own name. Notes unknown_wood.
std::string read_wood(const Table& table, std::string_view key);
// The same for a name that stands at `at`.
std::string wood_named(const Table& table, Place at, std::string_view key, const std::string& name);

std::optional<Paper> read_paper(const Table& table);

}  // namespace stickwright
