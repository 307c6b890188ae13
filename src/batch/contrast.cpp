#include "batch/contrast.h"

#include <map>

namespace stickwright {
namespace {

// The wood that most of a piece's blocks are of: the first block is the largest.
const std::string& wood_of(const PuzzlePlan& puzzle, const StandingPiece& p) {
  return puzzle.wood_of[p.made][p.copy].front();
}

using Contacts = std::vector<std::vector<int>>;

Contacts contacts_of(const DesignPlan& design) {
  std::map<Cell, std::size_t> owner;
  for (std::size_t i = 0; i < design.standing.size(); ++i)
    for (Cell c : design.standing[i].cells) owner[c] = i;
  Contacts contacts(design.standing.size(), std::vector<int>(design.standing.size()));
  for (const auto& [cell, i] : owner)
    for (Cell n : design.design.family->neighbors(cell)) {
      const auto at = owner.find(n);
      if (at != owner.end() && at->second != i) ++contacts[i][at->second];
    }
  return contacts;
}

int like_contacts(const PuzzlePlan& puzzle, const Contacts& contacts) {
  int like = 0;
  const auto& standing = puzzle.design.standing;
  for (std::size_t i = 0; i < standing.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (contacts[i][j] > 0 && wood_of(puzzle, standing[i]) == wood_of(puzzle, standing[j])) like += contacts[i][j];
  return like;
}

bool improve_once(PuzzlePlan& puzzle, const Contacts& contacts, int& like) {
  auto& standing = puzzle.design.standing;
  for (std::size_t i = 0; i < standing.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      if (standing[i].made != standing[j].made || wood_of(puzzle, standing[i]) == wood_of(puzzle, standing[j]))
        continue;
      std::swap(standing[i].copy, standing[j].copy);
      const int now = like_contacts(puzzle, contacts);
      if (now < like) {
        like = now;
        std::swap(standing[i].name, standing[j].name);
        return true;
      }
      std::swap(standing[i].copy, standing[j].copy);
    }
  return false;
}

}  // namespace

int like_wood_contacts(const PuzzlePlan& puzzle) {
  return like_contacts(puzzle, contacts_of(puzzle.design));
}

int contrast_woods(PuzzlePlan& puzzle) {
  const Contacts contacts = contacts_of(puzzle.design);
  int like = like_contacts(puzzle, contacts);
  while (improve_once(puzzle, contacts, like)) {
  }
  return like;
}

}  // namespace stickwright
