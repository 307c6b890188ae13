// jig_reading.h - reads the optional tables about jigs, air and known errors. Private to this room.
#pragma once
#include <optional>
#include <vector>

#include "shop/shop.h"
#include "text/toml_reader.h"

namespace stickwright {

// Reads [blade]'s optional keys into a blade whose others are read. Notes bad_kerf.
void read_blade_work(const Table& table, Blade& blade);
// Reads [sled]'s optional keys. Notes unknown_material.
void read_sled_jig(const Table& table, std::span<const Material> own, Sled& sled);

// Notes bad_material (a name given twice).
std::vector<Material> read_materials(const std::vector<Table>& tables);
// Notes unknown_material, bad_cradle (a name given twice, a clamp beside the cradle).
std::vector<Cradle> read_cradles(const std::vector<Table>& tables, std::span<const Material> own);
std::optional<Air> read_air(const Table& table);
Known read_known(const Table& table);
std::optional<Square> read_square(const Table& table);

}  // namespace stickwright
