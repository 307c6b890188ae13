// The closed puzzle of the demo batch down to its blocks.
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "batch/fit_inputs.h"

namespace stickwright {
namespace {

const BatchPlan& example() {
  static const BatchPlan plan = plan_set_ups(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml").take();
  return plan;
}

// Shared corners of cells, by plain search: which cells of different pieces have a face in common.
std::map<std::pair<int, int>, int> touching_cell_faces(const PuzzlePlan& puzzle) {
  std::map<std::pair<int, int>, int> out;
  const auto cells = puzzle.design.standing_cells();
  for (int i = 0; i < static_cast<int>(cells.size()); ++i)
    for (int j = i + 1; j < static_cast<int>(cells.size()); ++j)
      for (Cell c : cells[i])
        for (Cell n : mitered().neighbors(c))
          if (std::binary_search(cells[j].begin(), cells[j].end(), n)) ++out[{i, j}];
  return out;
}

double area_of(const std::vector<Spot>& corners) {
  Point sum;
  for (std::size_t i = 0; i + 1 < corners.size(); ++i)
    sum = sum + cross(in_mm(corners[i], 1) - in_mm(corners[0], 1), in_mm(corners[i + 1], 1) - in_mm(corners[0], 1));
  return length(sum) / 2;
}

TEST(ClosedPuzzle, BlocksStandWhereTheirCellsAre) {
  for (const PuzzlePlan& puzzle : example().puzzles) {
    const ClosedPuzzle closed = closed_puzzle(example(), puzzle);
    std::size_t block = 0;
    for (const StandingPiece& piece : puzzle.design.standing) {
      Cells filled;
      for (std::size_t k = 0; k < example().split.pieces[puzzle.first + piece.made].blocks.size(); ++k, ++block)
        filled.insert(filled.end(), closed.blocks[block].cells.begin(), closed.blocks[block].cells.end());
      std::sort(filled.begin(), filled.end());
      EXPECT_EQ(filled, piece.cells) << piece.name;
    }
    // Every corner of a block's faces is one of its cells' corners, and the frame of the work leads there.
    for (const StandingBlock& b : closed.blocks) {
      std::set<Vec> corners;
      for (Cell c : b.cells)
        for (Vec p : mitered().corners(c)) corners.insert(p);
      const Program& program = example().set_ups[b.shape].program;
      const Block& shape = example().split.shapes[b.shape];
      for (const StandingFace& f : b.faces)
        for (Vec p : f.loop) EXPECT_TRUE(corners.contains(p));
      std::set<Vec> from_work, from_faces;
      for (Vec p : corners_in_work_frame(shape, program)) from_work.insert(b.from_work * p);
      for (const StandingFace& f : b.faces) from_faces.insert(f.loop.begin(), f.loop.end());
      EXPECT_EQ(from_work, from_faces);
    }
  }
}

// Counted by hand: each of the six like pieces touches four of the others, with two faces each.
TEST(ClosedPuzzle, TheStarHas24ContactsBetween12Pairs) {
  const PuzzlePlan& star = example().puzzles[0];
  const ClosedPuzzle closed = closed_puzzle(example(), star);
  std::set<std::tuple<int, int, Vec>> contacts;
  std::set<std::pair<int, int>> pairs;
  for (const BlockContact& c : block_contacts(closed)) {
    const int from = closed.blocks[c.from].piece, to = closed.blocks[c.to].piece;
    pairs.insert(std::minmax(from, to));
    contacts.insert(from < to ? std::tuple(from, to, c.normal) : std::tuple(to, from, -c.normal));
  }
  EXPECT_EQ(pairs.size(), 12u);
  EXPECT_EQ(contacts.size(), 24u);
}

// A cell's face has the area sqrt 2 square units: contacts of blocks cover exactly the faces that cells share.
TEST(ClosedPuzzle, ContactsCoverWhatCellsOfDifferentPiecesShare) {
  for (const PuzzlePlan& puzzle : example().puzzles) {
    const ClosedPuzzle closed = closed_puzzle(example(), puzzle);
    std::map<std::pair<int, int>, double> area;
    for (const BlockContact& c : block_contacts(closed))
      area[std::minmax(closed.blocks[c.from].piece, closed.blocks[c.to].piece)] += area_of(c.corners);
    const auto faces = touching_cell_faces(puzzle);
    ASSERT_EQ(area.size(), faces.size());
    for (const auto& [pair, n] : faces) EXPECT_NEAR(area[pair], n * std::sqrt(2.0), 1e-9);
  }
}

TEST(ClosedPuzzle, GluedAreasAreThoseOfTheJoints) {
  for (const PuzzlePlan& puzzle : example().puzzles) {
    const ClosedPuzzle closed = closed_puzzle(example(), puzzle);
    for (const StandingPieceParts& p : closed.pieces) {
      EXPECT_EQ(static_cast<int>(p.joints.size()), p.blocks - 1);
      std::set<int> there{p.first_block};
      for (const StandingJoint& j : p.joints) {
        EXPECT_TRUE(there.contains(j.a));
        EXPECT_TRUE(there.insert(j.b).second);
        EXPECT_GT(area_of(j.corners), 1);
      }
    }
  }
}

// Shifted by nothing the contacts are the same; a piece far away has none.
TEST(ClosedPuzzle, ContactsOfShiftedPieces) {
  const PuzzlePlan& star = example().puzzles[0];
  const ClosedPuzzle closed = closed_puzzle(example(), star);
  const auto here = block_contacts(closed);
  EXPECT_EQ(block_contacts(closed, std::vector<Vec>(6), 3).size(), here.size());
  std::vector<Vec> away(6);
  away[2] = {300, 0, 0};
  for (const BlockContact& c : block_contacts(closed, away, 3)) {
    EXPECT_NE(closed.blocks[c.from].piece, 2);
    EXPECT_NE(closed.blocks[c.to].piece, 2);
  }
}

TEST(ClosedPuzzle, WhatIsSeenFromOutsideLiesOnTheGoalsSurface) {
  const PuzzlePlan& star = example().puzzles[0];
  const ClosedPuzzle closed = closed_puzzle(example(), star);
  const auto contacts = block_contacts(closed);
  const auto seen = seen_from_outside(closed, contacts);
  for (std::size_t c = 0; c < contacts.size(); ++c)
    for (std::size_t k = 0; k < contacts[c].corners.size(); ++k) {
      const Point p = in_mm(contacts[c].corners[k], 1);
      // The star is the union of three octahedra |x|+|y|<2 & |x|+|z|<2 and so on (geometry of the first stellation).
      const double x = std::abs(p.a), y = std::abs(p.b), z = std::abs(p.t);
      const bool inside = (x + y < 2 - 1e-9 && x + z < 2 - 1e-9) || (y + x < 2 - 1e-9 && y + z < 2 - 1e-9) ||
                          (z + x < 2 - 1e-9 && z + y < 2 - 1e-9);
      EXPECT_EQ(seen[c][k], !inside) << p.a << " " << p.b << " " << p.t;
    }
}

}  // namespace
}  // namespace stickwright
