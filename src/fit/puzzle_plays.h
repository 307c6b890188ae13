// puzzle_plays.h - the play of puzzle after puzzle, drawn from what is known of the shop.
#pragma once
#include <cstdint>
#include <functional>
#include <span>

#include "closing/closed_fit.h"
#include "fit/puzzle_draws.h"

namespace stickwright {

// Changes the numbers of a bunch before it is worked out: an allowance is put on, a source is drawn anew.
using AlterBunch = std::function<void(std::uint64_t bunch, std::span<double> values)>;

// Takes the plays of one bunch, mm, [lanes]; bunches come in order, from one thread.
using TakePlays = std::function<void(std::uint64_t bunch, std::span<const double> plays)>;

struct PlayCounts {
  std::int64_t samples = 0;
  std::uint64_t pivots = 0, fresh_solves = 0;
  std::size_t vertices = 0;  // sets of balanced forces met, of the thread that met most
};

class PuzzlePlays {
 public:
  // The contacts of `gaps` bind, or not: then all plays are endless.
  PuzzlePlays(const PuzzleErrors& errors, const GapForms& gaps, int copies, std::uint64_t seed);
  // The same contacts and seed, but other things are off, or batches are of another size.
  PuzzlePlays(const PuzzlePlays& like, const PuzzleErrors& errors, int copies);

  const FitProgram& program() const { return program_; }
  const PuzzleDraws& draws() const { return draws_; }
  std::uint64_t bunches_for(std::int64_t samples) const;

  // Works out at least so many puzzles, whole bunches, on all cores. Memory does not grow with their number.
  //   go_on   asked now and then; once it says no, the rest is left undone
  PlayCounts run(std::int64_t samples, const TakePlays& take, const AlterBunch& alter = {},
                 const std::function<bool()>& go_on = {}) const;

  // The gaps of one bunch, mm, [lanes][rows], before any piece is moved.
  void gaps(std::uint64_t bunch, std::vector<double>& values, std::vector<double>& out,
            const AlterBunch& alter = {}) const;
  // The same of a bunch that is drawn already and altered; derived numbers are filled in.
  void gaps_of(std::span<double> values, std::vector<double>& out) const;

 private:
  FitProgram program_;
  FormTable table_;
  PuzzleDraws draws_;
};

}  // namespace stickwright
