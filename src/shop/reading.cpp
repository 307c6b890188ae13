#include "shop/reading.h"

#include <fmt/core.h>

#include "wood/species.h"

namespace stickwright {

std::string wood_named(const Table& table, Place at, std::string_view key, const std::string& name) {
  if (name.empty()) return "";  // noted by the reader already
  const auto species = find_species(name);
  if (species) return std::string(species.value()->name);
  table.report(at, species.problem().code, fmt::format("{}: {}", key, species.problem().say));
  return "";
}

std::string read_wood(const Table& table, std::string_view key) {
  return wood_named(table, table.place(key), key, table.text(key));
}

std::optional<Paper> read_paper(const Table& table) {
  if (!table.has("paper")) return {};
  return table.choice("paper", {"A4", "letter"}) == 0 ? Paper::a4 : Paper::letter;
}

}  // namespace stickwright
