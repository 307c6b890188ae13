// What must not change the play, because it is only a choice of how things are written down: docs/derivations/fit.md.
#include <gtest/gtest.h>

#include <algorithm>

#include "support/fit_puzzles.h"
#include "support/star_pieces.h"

namespace stickwright {
namespace {

constexpr double kSame = 1e-9;  // mm
constexpr double kLargest = 0.05;

// The play of a puzzle, again and again.
class Play {
 public:
  explicit Play(const known::FitPuzzle& p) : p_(p), program_(p.gaps.rows) {}
  double operator()(const std::vector<double>& values) const { return known::linear_fit(p_, program_, values).play_mm; }

 private:
  const known::FitPuzzle& p_;
  FitProgram program_;
};

known::FitPuzzle star(const std::vector<std::vector<int>>& order = {}) {
  return known::fit_puzzle("star", known::star_pieces(), {}, order);
}

void place_by_hand_exactly(const known::FitPuzzle& p, std::vector<double>& values) {
  for (std::size_t k = 0; k < p.errors.numbers.size(); ++k)
    if (p.errors.numbers[k].source == "placing in the glue-up") values[k + 1] = 0;
  p.errors.derive(values);
}

// Where every face lies, at its corners' middle and beside it.
double most_different_face(const known::FitPuzzle& p, const known::FitPuzzle& q, const std::vector<double>& values) {
  double most = 0;
  for (std::size_t b = 0; b < p.puzzle.blocks.size(); ++b)
    for (std::size_t f = 0; f < p.puzzle.blocks[b].faces.size(); ++f)
      for (Vec v : p.puzzle.blocks[b].faces[f].loop) {
        const Point x = in_mm({v, 1}, p.puzzle.unit_mm);
        most = std::max(most, std::abs(p.errors.faces[b][f].at(x)(values) - q.errors.faces[b][f].at(x)(values)));
      }
  return most;
}

// The blocks of a piece, by what they are: cells tell a block whatever its index.
const Cells& cells_of(const known::FitPuzzle& p, int piece, int block) {
  return p.puzzle.blocks[static_cast<std::size_t>(p.puzzle.pieces[static_cast<std::size_t>(piece)].first_block + block)]
      .cells;
}

std::string same_block_key(const known::FitPuzzle& from, const known::FitPuzzle& to, const std::string& key) {
  for (std::size_t piece = 0; piece < from.puzzle.pieces.size(); ++piece)
    for (int b = 0; b < from.puzzle.pieces[piece].blocks; ++b) {
      const auto named = [&](int block) {
        return " of block " + std::to_string(block) + " of piece " + std::to_string(piece);
      };
      const std::string tail = named(b);
      if (key.size() < tail.size() || key.substr(key.size() - tail.size()) != tail) continue;
      for (int c = 0; c < to.puzzle.pieces[piece].blocks; ++c)
        if (cells_of(to, static_cast<int>(piece), c) == cells_of(from, static_cast<int>(piece), b))
          return key.substr(0, key.size() - tail.size()) + named(c);
    }
  return key;
}

// The places of the glue lines, by joint: numbers of gluing stand in the order of pieces and joints.
std::vector<std::pair<std::vector<Cells>, std::size_t>> glue_lines(const known::FitPuzzle& p) {
  std::vector<std::pair<std::vector<Cells>, std::size_t>> out;
  std::size_t k = 0;
  for (const StandingPieceParts& piece : p.puzzle.pieces)
    for (const StandingJoint& j : piece.joints) {
      while (p.errors.numbers[k].name != "glue line") ++k;
      std::vector<Cells> both = {p.puzzle.blocks[static_cast<std::size_t>(j.a)].cells,
                                 p.puzzle.blocks[static_cast<std::size_t>(j.b)].cells};
      std::sort(both.begin(), both.end());
      out.push_back({both, ++k});
    }
  return out;
}

std::vector<double> carried_over(const known::FitPuzzle& from, const known::FitPuzzle& to,
                                 const std::vector<double>& values) {
  std::vector<double> out = known::no_errors(to);
  for (std::size_t k = 0; k < from.errors.numbers.size(); ++k) {
    if (from.errors.numbers[k].key.empty()) continue;
    const std::string key = same_block_key(from, to, from.errors.numbers[k].key);
    for (std::size_t m = 0; m < to.errors.numbers.size(); ++m)
      if (to.errors.numbers[m].key == key) out[m + 1] = values[k + 1];
  }
  const auto here = glue_lines(from), there = glue_lines(to);
  for (const auto& [joint, at] : here)
    for (const auto& [other, to_at] : there)
      if (joint == other) out[to_at] = values[at];
  to.errors.derive(out);
  return out;
}

TEST(Gauge, PlayDoesNotDependOnWhichBlockOfAPieceIsTheFirst) {
  const known::FitPuzzle plain = star();
  const Play play(plain);
  for (const std::vector<int>& order : {std::vector<int>{1, 0, 2}, {2, 0, 1}, {0, 2, 1}}) {
    const known::FitPuzzle other = star({{}, order, {}, order, order, {}});
    const Play other_play(other);
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      std::vector<double> values = known::drawn_errors(plain, seed, kLargest);
      place_by_hand_exactly(plain, values);
      EXPECT_NEAR(play(values), other_play(carried_over(plain, other, values)), kSame);
    }
  }
}

// The same program, its places along the stick counted from elsewhere.
TEST(Gauge, PlayDoesNotDependOnWhereABlocksOwnFrameLies) {
  const known::FitPuzzle plain = star();
  const Play play(plain);
  for (std::int64_t by : {-4, 6}) {
    ShopKnown shop = plain.shop;
    for (Program& program : shop.programs) {
      program.start.at += by;
      for (Cut& cut : program.cuts) cut.miter.at += by;
    }
    ClosedPuzzle puzzle = plain.puzzle;
    for (StandingBlock& b : puzzle.blocks) b.from_work.shift = b.from_work.shift - b.from_work.turn * Vec{0, 0, by};
    const known::FitPuzzle other = known::fit_puzzle("star", puzzle, shop);
    const Play other_play(other);
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      const std::vector<double> values = known::drawn_errors(plain, seed, kLargest);
      EXPECT_NEAR(play(values), other_play(values), kSame);
    }
  }
}

// A face's corners are a circle: any of them may be the first. Where a plate of the glue jig held a block it was not
// so.
TEST(Gauge, PieceDoesNotDependOnWhichCornerOfAFaceIsTheFirst) {
  for (const known::FitPuzzle& plain :
       {star(), known::planned_fit_puzzle(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml", 0)}) {
    ClosedPuzzle puzzle = plain.puzzle;
    for (StandingBlock& b : puzzle.blocks)
      for (StandingFace& f : b.faces) std::rotate(f.loop.begin(), f.loop.begin() + 1, f.loop.end());
    const known::FitPuzzle other = known::fit_puzzle("star", puzzle, plain.shop);
    for (std::uint64_t seed = 1; seed <= 20; ++seed)
      EXPECT_NEAR(most_different_face(plain, other, known::drawn_errors(plain, seed, kLargest)), 0, kSame)
          << plain.name;
  }
}

}  // namespace
}  // namespace stickwright
