// play_tally.h - the distribution of play over many puzzles, in memory that does not grow with their number.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace stickwright {

// Which plays are right.
struct PlayWindow {
  double closes_from = 0;        // mm: with as little play as this a puzzle still goes together; below 0, by pressing
  double least = 0, most = 0.1;  // mm: as it was asked for
};

// A share, and the standard uncertainty that comes from the number of puzzles drawn; batches count as one draw each,
// since their puzzles have much in common.
struct ShareFound {
  double share = 0, u = 0;
};

class PlayTally {
 public:
  PlayTally(const PlayWindow& window, int copies);

  // Plays of whole batches, one after another, in mm.
  void add(std::span<const double> plays);

  std::int64_t samples() const { return samples_; }
  double mean() const;
  double deviation() const;             // standard deviation
  double quantile(double share) const;  // mm, to within half a micrometer
  ShareFound closes() const;
  ShareFound within() const;        // the window
  ShareFound batch_closes() const;  // every puzzle of a batch

  // How many plays lie in each of the bars between two bounds.
  struct Bars {
    double from = 0, width = 0;       // mm
    std::vector<std::int64_t> count;  // those beyond are in the first and the last
  };
  Bars bars(int most) const;

 private:
  // Of one yes or no of a puzzle: shares of batches, summed.
  struct Count {
    double sum = 0, square = 0;
    void add(double share) { sum += share, square += share * share; }
    ShareFound over(std::int64_t batches) const;
  };
  PlayWindow window_;
  int copies_;
  std::int64_t samples_ = 0, batches_ = 0;
  double sum_ = 0, square_ = 0;
  Count closes_, within_, all_close_;
  std::vector<std::int64_t> fine_;  // by micrometer
};

}  // namespace stickwright
