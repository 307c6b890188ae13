// plain_search.h - a second, deliberately plain search for ways to take pieces apart: every group, every stop. It
// shares nothing with src/takeapart: cubes are compared as sets, mitered cells by separating axes made from their
// corners.
#pragma once
#include <functional>
#include <map>
#include <vector>

#include "family/family.h"

namespace stickwright::plain {

inline constexpr int kFar = 1'000'000;

// How two pieces can pass each other.
struct Passer {
  std::vector<Vec> directions;
  // Whole stops that piece i, standing `offset` (in stops) before piece j, can slide along the direction; kFar: any.
  std::function<int(int i, int j, Vec offset, Vec direction)> stops;
};
Passer cubes(const std::vector<Cells>& pieces);
Passer mitered_cells(const std::vector<Cells>& pieces);  // a stop is half a unit

struct Answer {
  bool apart = false, gave_up = false;
  int first = 0;      // slides to the first parting of any kind; 0: there is none
  int all = 0;        // when apart: the fewest slides until every piece is alone
  int positions = 0;  // of all pieces together that were reached
  int ways_out = 0;   // groups and directions that part the pieces as they stand
};

struct Limits {
  int box = 6;           // stops; a group that could leave for good may stop on the way up to this far
  int positions = 8000;  // of one part
};

class Search {
 public:
  Search(Passer passer, Limits limits = {}) : passer_(std::move(passer)), limits_(limits) {}
  // These pieces alone, where they stand in the assembly.
  Answer take_apart(const std::vector<int>& pieces) { return solve({pieces, std::vector<Vec>(pieces.size())}); }

 private:
  struct Part {
    std::vector<int> pieces;
    std::vector<Vec> at;
    friend auto operator<=>(const Part&, const Part&) = default;
  };
  struct Places;  // of a part that were reached
  Answer solve(const Part& part);
  void visit(const Part& here, int depth, Answer& answer, Places& places);
  void part(const Part& here, unsigned group, int depth, Answer& answer);
  static Part side(const Part& here, unsigned group, bool in);
  int stops(const Part& here, unsigned group, std::size_t direction);
  bool in_the_box(const std::vector<Vec>& at) const;

  Passer passer_;
  Limits limits_;
  std::map<Part, Answer> solved_;
  std::map<std::pair<std::pair<int, int>, Vec>, std::vector<int>> seen_;  // stops along each direction
};

}  // namespace stickwright::plain
