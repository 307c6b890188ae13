// fit_puzzles.h - small closed puzzles with all that the fit needs to know of them, and errors drawn for them.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "closing/closed_fit.h"
#include "fit/puzzle_errors.h"

namespace stickwright::known {

struct FitPuzzle {
  std::string name;
  ClosedPuzzle puzzle;
  ShopKnown shop;
  std::vector<BlockContact> contacts;
  PuzzleErrors errors;
  GapForms gaps;
  int copies = 1;
};

// The puzzle of the pieces, as they stand; blocks and cut programs are found, sticks are of 16 mm.
//   datum   by piece, as StandingGlueUp::datum; missing ones are empty
//   order   by piece: its blocks in another order, which block of before comes first, second, ...; missing ones stay
FitPuzzle fit_puzzle(std::string name, const std::vector<Cells>& pieces,
                     const std::vector<std::vector<Vec>>& datum = {}, const std::vector<std::vector<int>>& order = {});

// The rest of it, from a closed puzzle and a shop.
FitPuzzle fit_puzzle(std::string name, ClosedPuzzle puzzle, ShopKnown shop);

// The first puzzle of a batch file; or that one.
FitPuzzle planned_fit_puzzle(const std::string& batch_file, std::size_t which = 0);

// The solid cut at random into connected pieces whose contacts bind. Same seed, same pieces.
std::vector<Cells> binding_pieces(const Cells& solid, int pieces, std::uint64_t seed);

// Errors of one puzzle, [errors.values()]: every number drawn from a normal distribution by its standard uncertainty,
// all together scaled such that the face that is off most, at a corner, is off by largest_mm to first order.
std::vector<double> drawn_errors(const FitPuzzle& p, std::uint64_t seed, double largest_mm);

// How far the face that is off most is off, mm.
double most_off(const FitPuzzle& p, const std::vector<double>& values);

// Nothing off, not even a glue line.
std::vector<double> no_errors(const FitPuzzle& p);

// The play to first order.
ClosedFit linear_fit(const FitPuzzle& p, const FitProgram& program, const std::vector<double>& values);

}  // namespace stickwright::known
