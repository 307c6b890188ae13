// block_sizes.h - single blocks as they were measured: which sizes of which block, out of the readings of the ledger.
#pragma once
#include <array>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "batch/plan.h"
#include "ledger/entries.h"

namespace stickwright {

// A block that was measured, or any one that was not. Sizes are measured less wanted, mm.
struct SortedBlock {
  int shape = 0;
  std::string wood;
  int number = 0;                                       // that is written on it; 0: none
  std::optional<EntryId> reading;                       // of a block without a number: its entry in the ledger
  std::optional<double> off_mm;                         // across flats at the stop that counts
  std::array<std::optional<double>, 2> width_off_mm{};  // across the sides of the stick, as WidthNumber::side
  bool measured() const { return number > 0 || reading; }
};

// A size that a reading tells: across flats at a stop, from 0, of a shape; or, where side is 1 or 2, a width.
struct BlockSize {
  int shape = 0;
  std::size_t stop = 0;
  int side = 0;
};

// By how much a millimeter of the size of one block changes the play of a puzzle, at most.
using SizeEffect = std::function<double(const BlockSize&)>;

// Which sizes of the blocks of a shape were read, and count.
struct SizesRead {
  std::optional<std::size_t> stop;
  std::array<bool, 2> width{};
};

using BlockKind = std::pair<int, std::string>;  // shape, wood

struct BlockSizes {
  std::map<int, SizesRead> read;                         // by shape
  std::map<BlockKind, std::vector<SortedBlock>> blocks;  // by number, or in the order of their readings
  std::vector<int> no_matter;                            // shapes none of whose readings tell of the play
  int without_wood = 0;                                  // readings whose wood nobody wrote down
  int without_number = 0;                                // readings without a number of blocks that have numbers
};

// Readings with the number of a block belong to it; of several of one size the last counts. A reading across flats
// without a number is a block by itself, unless other blocks of its kind have numbers: then nobody knows whose it is.
//   ledger   a file that does not exist says nothing
//   returns  of a shape with several stops that a block shows itself, the readings of the one with most effect
//   errors   those of the ledger
Result<BlockSizes> read_block_sizes(const BatchPlan& plan, const std::filesystem::path& ledger,
                                    const SizeEffect& effect);

}  // namespace stickwright
