// cover.h - exact cover with supplies: options are chosen so that every cell is covered once. Knows no geometry.
#pragma once
#include <atomic>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

struct CoverSupply {
  int at_least = 1, at_most = 1;  // how many of its options a cover uses
};

struct CoverOption {
  int supply = 0;
  std::vector<int> cells;  // ascending
};

struct CoverProblem {
  int cells = 0;                     // named 0 to cells - 1; solvers that sweep do so in this order
  std::vector<char> may_stay_empty;  // by cell; empty when none may
  std::vector<CoverSupply> supplies;
  std::vector<CoverOption> options;
  std::optional<int> chosen_in_all;  // how many options a cover has; nothing: as many as it takes
  std::vector<std::vector<int>>
      neighbors;  // by cell: cells that share a face; for cutting dead ends only, may be empty
  std::vector<std::vector<int>> symmetries;  // each takes options to options, covers to covers; the identity first
};

// A cover: the options chosen, ascending.
using Cover = std::vector<int>;

// How a search counts, when it ends early, and what it tells meanwhile.
struct CoverLimits {
  std::int64_t nodes = INT64_MAX;   // stop when so many choices were opened
  std::int64_t covers = INT64_MAX;  // stop when so many were found
  std::size_t keep = SIZE_MAX;      // how many to hold in memory
  int threads = 0;                  // 0: as many as the machine has
  std::size_t first_branch = 0;     // branches before this one were searched earlier: see CoverAnswer::branches_done
  const std::atomic<bool>* cancel = nullptr;
};

struct CoverProgress {
  std::int64_t covers = 0;  // found so far
  double share = 0;         // of the search that is done, 0 to 1: every branch of a choice is taken to be equally long
  std::int64_t nodes = 0;   // choices opened; known while `as_found`
};

// Called from one thread at a time: covers in the order of the answer, progress now and then.
//   as_found  covers at once, in any order, and progress about every half second, also while no branch is done. The
//   same
//             covers are told, unless a limit ends the search: then maybe others besides. A cancelled search counts and
//             keeps what all its branches had found
struct CoverListener {
  std::function<void(const Cover&)> on_cover;
  std::int64_t most = INT64_MAX;  // on_cover hears of the first so many only: then the others need not be listed
  std::function<void(const CoverProgress&)> on_progress;
  bool as_found = false;
};

struct CoverAnswer {
  Verdict verdict = Verdict::stopped;
  std::int64_t count = 0;  // one for each class under the symmetries; a lower bound when stopped
  std::int64_t total = 0;  // all of them, symmetric copies counted apart; likewise
  std::vector<Cover> kept;
  std::int64_t nodes = 0;
  std::size_t branches_done = 0, branches = 0;  // for going on later: the first branches are searched to the end
  std::int64_t count_done = 0, total_done = 0;  // found in these
};

// Finds or counts all covers, one for each class under problem.symmetries.
//   returns  the same answer, in the same order, on any number of threads, also when it stops at a limit; only `cancel`
//            depends on time
//   exact    counts that do not fit 63 bits end with `stopped`
CoverAnswer solve_cover(const CoverProblem& problem, const CoverLimits& limits = {}, const CoverListener& tell = {});

}  // namespace stickwright
