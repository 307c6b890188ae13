// run_advice.h - everything that the readings of one stop say, and whether to go on sawing.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "metrology/capability.h"
#include "metrology/control_chart.h"
#include "metrology/drift.h"
#include "metrology/run_rules.h"

namespace stickwright {

// go_on: nothing speaks against it. check: look at the saw before the next block. stop: the next block may be waste.
enum class Advice { go_on, check, stop };
const char* to_string(Advice advice);  // "go_on"

// What the readings, in millimeters, are measured against.
struct Wanted {
  double size = 0;         // target
  double tolerance = 0;    // to either side, > 0
  double least_sigma = 0;  // as for control_chart; > 0
  ReadingOf of = ReadingOf::stop;
  ToleranceLimits limits() const { return {size - tolerance, size + tolerance}; }
};

struct RunReport {
  std::size_t readings = 0, outside = 0;  // outside: beyond the tolerance
  std::optional<double> mean, sd;         // one reading gives a mean only
  std::optional<ControlChart> chart;      // from two readings on
  std::optional<Capability> capability;   // from two readings on
  std::optional<Drift> drift;             // from three readings on
  std::vector<Signal> signals;            // all of them, old ones too
  std::optional<Ewma> average;            // from two readings on, started at the center
  Advice advice = Advice::go_on;
  std::string reason;  // one or two plain sentences
};

// Looks at the readings in the order in which they were taken.
//   advice   stop: the last reading is outside the tolerance or, of ten or more, beyond a control limit. check: one of
//            the newest eight was outside the tolerance or is part of a signal that ended in them; the moving average
//            is beyond its limits; the line through the readings (p < 0.01) leaves the tolerance within the next 20;
//            Cpk < 1 with enough readings. These bounds are the program's own choice.
RunReport report_run(std::span<const double> readings, const Wanted& wanted);

}  // namespace stickwright
