// puzzle_errors.h - everything that can be off in a finished puzzle, and what each of it does to every face.
#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "fit/closed_puzzle.h"
#include "closing/gap_rows.h"
#include "fit/glue_poses.h"
#include "saw/state.h"

namespace stickwright {

// What gluing brings in: a glue line's thickness; where a block is put within the plane of its joint, by hand and
// against a plate of the jig. mm; each joint, block and direction by itself.
struct GluingKnown {
  Estimate line, by_hand, against_plate;
};

// How far a wood moves: share of its size per percent of moisture content, across and along the grain.
struct WoodMovement {
  Estimate across, along;
};

// What is needed to know of a batch, beside the puzzle.
struct ShopKnown {
  std::vector<Program> programs;         // by shape
  std::vector<std::string> shape_names;  // "center block"
  std::vector<ShopState> states;         // by shape: a stick for each wood, stops and seatings of the shape's program
  std::vector<std::string> woods;        // of the states' sticks
  std::vector<WoodMovement> movement;    // by wood
  GluingKnown gluing;
  bool own_sticks = false;  // every block has a width of its own; else those of a shape and wood share a stick
};

// What a number is the size of, where a maker can choose it.
enum class SizeOf { none, stop, stick, glue_line };

// One thing that can be off, independent of all others.
struct FitNumber {
  std::string name;         // "stop 1 of the center block", "glue line"
  std::string source;       // whose doing it is, as it is told: "stops of the center block", "gluing"
  bool each_puzzle = true;  // another one in each puzzle; else one for the whole batch
  Estimate off;             // by how much it is off
  SizeOf size_of = SizeOf::none;
  std::string key = {};  // it and no other: "seating at cut 2 of block 1 of piece 0"; empty where gluing brings it in
};

// A number that follows from others: how much two that are off do together, as moisture and movement do; or how far the
// work slid at a cut, which depends on where it touched the stop.
struct FitDerived {
  struct Product {
    int number = 0, other = 0;
    double coefficient = 0;
    friend bool operator==(const Product&, const Product&) = default;
  };
  std::vector<Product> products;  // summed; or none:
  bool largest = true;            // the largest of the forms; else the least
  std::vector<Form> of;           // of numbers, and derived ones before it
};

// A stop of a shape's program, among the numbers.
struct StopNumber {
  int shape = 0, stop = 0;
  int number = 0;
};

// How a block seats at a cut, among the numbers.
struct SeatingNumber {
  int block = 0, cut = 0;  // of the puzzle, of its program
  int number = 0;
};

// How wide a block is across a pair of the sides that the stick has left on it, among the numbers. Blocks of one stick
// share it.
struct WidthNumber {
  int block = 0, side = 1;  // of the puzzle; 1: across the sides towards (+a,+b) and (-a,-b), 2: across the others
  int number = 0;
};

// How much a wood has swollen since its pieces were glued, as a share of its size, among the numbers: nothing, until
// somebody says more.
struct SwellingNumbers {
  std::string wood;
  int across = 0, along = 0;
  WoodMovement movement;
};

// Forms are of: 0, the constant 1; then the numbers; then the derived ones.
struct PuzzleErrors {
  std::vector<FitNumber> numbers;
  std::vector<FitDerived> derived;
  std::vector<StopNumber> stops;
  std::vector<SeatingNumber> seatings;
  std::vector<WidthNumber> widths;
  std::vector<SwellingNumbers> swelling;      // of the puzzle's woods
  std::vector<std::vector<FaceField>> faces;  // [block][face]: how the face lies, its piece held by its first block
  int number_at(std::size_t k) const { return static_cast<int>(k) + 1; }
  int derived_at(std::size_t k) const { return static_cast<int>(numbers.size() + k) + 1; }
  // Fills in the derived numbers of one puzzle; values [values()].
  void derive(std::span<double> values) const;
  std::size_t values() const { return 1 + numbers.size() + derived.size(); }
};

//   assumes  blocks of one shape and wood in a puzzle come from one stick: they are cut one after another (unless
//            own_sticks: then only how far its corners are from square, and how it moves, is shared)
//   errors   none: first order in all that is off
//   source   docs/derivations/fit.md
PuzzleErrors puzzle_errors(const ClosedPuzzle& puzzle, const ShopKnown& shop);

// How the gaps of some contacts depend on what is off: one row for each corner of each contact.
struct GapForms {
  GapRows rows;              // bodies are the pieces
  std::vector<Form> gap;     // mm, [rows]
  std::vector<int> contact;  // [rows] index into the contacts
};

//   faces  as PuzzleErrors::faces
//   shifts, unit  as for block_contacts: the pieces stand so
GapForms gap_forms(const ClosedPuzzle& puzzle, const std::vector<std::vector<FaceField>>& faces,
                   const std::vector<BlockContact>& contacts, const std::vector<Vec>& shifts = {},
                   std::int64_t unit = 1);

// The face with the pose of its block.
FaceField posed(const FaceField& face, Point normal, const BlockPose& pose);

}  // namespace stickwright
