// run_rules.h - patterns on a control chart that a steady saw hardly ever makes, and what they usually come from.
#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "metrology/control_chart.h"

namespace stickwright {

//   source   Western Electric, "Statistical Quality Control Handbook" (1956), and NIST/SEMATECH e-Handbook 6.3.2, zone
//            rules; `six_in_a_row`: L. S. Nelson, "The Shewhart control chart - tests for special causes", Journal of
//            Quality Technology 16 (1984), from memory
enum class RunRule {
  one_beyond_three_sigma,
  two_of_three_beyond_two_sigma,
  four_of_five_beyond_one_sigma,
  eight_on_one_side,
  six_in_a_row,  // each greater than the one before, or each less
};
const char* to_string(RunRule rule);  // "one_beyond_three_sigma"

struct Signal {
  RunRule rule;
  std::size_t first = 0, last = 0;  // indices of the readings that make it, both ends included
  bool high = false;                // above the center; rising for six_in_a_row
  friend bool operator==(const Signal&, const Signal&) = default;
};

// All signals, by the last reading and then by rule. A pattern that goes on is one signal that grows longer. The last
// reading of a signal is always one that breaks the rule; "beyond" a line is not on it.
std::vector<Signal> run_signals(std::span<const double> readings, const ControlChart& chart);

// What the signal says, in plain words: "8 readings in a row above the center line". Readings are counted from 1.
std::string signal_in_words(const Signal& signal);

// What is measured: a size that a stop gives, or one that was there before the saw, the stick's own.
enum class ReadingOf { stop, stick };

// What it usually means, and what to look at first. Common practice, no source.
struct Cause {
  std::string meaning, check;
};
Cause usual_cause(const Signal& signal, ReadingOf of);

}  // namespace stickwright
