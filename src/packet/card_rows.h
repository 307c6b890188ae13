// card_rows.h - what is done at the saw for a set-up, step by step: the rows of its card, on paper and on the page.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "batch/set_up.h"

namespace stickwright {

// Setting a stop, a cut of the block, or a cut that makes a test piece.
struct CardRow {
  const Program* program = nullptr;  // of the block or of the stand-in; none: set the stop
  std::size_t cut = 0;
  std::size_t stop = 0;
  std::string mark;                 // "1", or "T" for a test piece
  std::optional<Mm> across_flats;   // this cut makes the face that is measured
  std::optional<std::size_t> test;  // whose test measures it, or whose stand-in this cut is of: the stop that it proves
  bool of_test_piece() const { return mark == "T"; }
};

// The programs of the stand-ins live as long as the rows.
struct SetUpCard {
  const SetUp* set_up;
  std::vector<Program> stand_ins;  // as SetUp::tests
  std::vector<CardRow> rows;
};

//   assumes  the set-up outlives the card
std::shared_ptr<const SetUpCard> card_of(const SetUp& set_up);

// How the stop is set; "pencil line up; ..."; "test piece: pencil line up; ..."
std::string row_in_words(const SetUp& set_up, const CardRow& row);

// Which stops stand already, and which to leave standing for the set-up that follows; may be empty.
std::string standing_stops_in_words(const SetUp& set_up);

// Beside a cut of a loose block; of others empty.
std::string loose_block_caution(const CardRow& row);

// What to take care of at this set-up.
std::vector<std::string> saw_cautions(const Shop& shop, const SetUp& set_up);

}  // namespace stickwright
