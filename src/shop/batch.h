// batch.h - what is to be made, of which woods and by when, as written in the batch file. Keys: docs/files.md.
#pragma once
#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "shop/shop.h"

namespace stickwright {

inline constexpr std::string_view kEveryPiece = "*";  // stands for every piece that has no entry of its own

// The woods of a piece: one for all of its copies in a puzzle, or one for each copy.
struct PieceWoods {
  std::string piece;
  std::vector<std::string> woods;  // species' own names, at least one
  Place piece_at;
  std::vector<Place> wood_at;  // as many as woods
};

// A block of a piece that is of another wood than the piece.
struct BlockWood {
  std::string piece, block;  // the block by its trade name: "rhombic pyramid block"
  std::string wood;
  Place piece_at, block_at, wood_at;
};

struct PuzzleOrder {
  std::filesystem::path design;  // ready to be opened: the batch file's folder is in front
  int copies = 0;
  std::vector<PieceWoods> woods;       // in file order
  std::vector<BlockWood> block_woods;  // in file order
  Place at, design_at, woods_at;
};

struct Batch {
  std::string name;
  std::filesystem::path shop_path;
  Shop shop;
  Mm stick;  // side of the square section
  Place stick_at;
  std::chrono::year_month_day start, due;
  Place start_at, due_at;
  double spares = 0;        // share of a shape's blocks, rounded up
  int spares_at_least = 0;  // of each shape
  Mm tolerance;             // accuracy asked for across flats, to either side
  Place tolerance_at;
  std::optional<Paper> own_paper;
  std::vector<PuzzleOrder> puzzles;
  FitAsked fit;
  std::optional<Customer> customer;
  std::vector<std::filesystem::path> learn_from;  // files of earlier batches, whose ledgers teach this one
  std::shared_ptr<const Source> source;           // for problem_at with the places kept above

  Paper paper() const { return own_paper.value_or(shop.paper); }
};

// The entry for a piece: its own, else that of kEveryPiece, else null.
const PieceWoods* woods_of(const PuzzleOrder& order, std::string_view piece);

// The wood of one kind of block in a piece, when it is not that of the piece: the piece's own entry, else that of
// kEveryPiece, else null.
const BlockWood* block_wood_of(const PuzzleOrder& order, std::string_view piece, std::string_view block);

// How many spare blocks to cut of a shape of which `needed` are needed: none when none is needed.
int spares_for(const Batch& batch, int needed);

// Reads the batch file and the shop file it names.
//   errors   those of the reader (toml_reader.h) and of load_shop; unknown_wood; bad_date (due before start, or more
//            than two years later); bad_play (not least_play <= play <= most_play); wrong_count (of the customer's
//            months); no_file at the place where the shop is named
// A design that is missing or does not fit is found by who loads it; design_at says where it is named.
Result<Batch> load_batch(const std::filesystem::path& path);

}  // namespace stickwright
