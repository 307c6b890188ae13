// design_file.h - reads a design file. Keys: docs/files.md.
#pragma once
#include <filesystem>
#include <string>

#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

// Limits that keep every computation within its proven range; beyond them a file is refused, not cut short.
inline constexpr int kMaxPieces = 64;      // in one assembly
inline constexpr int kMaxSupplied = 1000;  // of which an assembly uses some, where pieces are optional

// Reads and checks a design.
//   errors   those of the reader (toml_reader.h), and: unknown_family, not_a_cell, cell_twice, piece_in_parts,
//            pieces_overlap, wrong_volume, too_large, name_twice, unknown_shape, hand_needed, bad_face, face_twice,
//            no_way_to_glue, several_ways, blocks_overlap, bad_shift, copies_need_goal, optional_needs_goal,
//            must_be_filled, wrong_count, unknown_solid
Result<Design> load_design(const std::filesystem::path& path);
Result<Design> parse_design(std::string_view text, const std::string& file);

}  // namespace stickwright
