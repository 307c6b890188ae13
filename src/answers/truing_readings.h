// truing_readings.h - what was seen at the saw while truing it, as it was typed or stands in a file.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "shop/shop.h"
#include "truing/observation.h"

namespace stickwright {

struct TruingTexts {
  // Light gaps of two opposite miters against a square, each with its unit: "0.1 mm".
  std::vector<std::string> gaps;
  std::string over;                 // length of arm that they are at
  std::string light = "tip";        // where it shows: tip or ends
  std::string u;                    // standard uncertainty of one gap; empty: what the eye tells
  std::string file;                 // readings of every kind, docs/files.md; empty: there are none
  std::optional<std::string> text;  // of the file, when it need not be read; `file` is then how mistakes name it
};

//   returns  at least one: gaps, then those of the file
//   errors   bad_option (`where` names the option of the command line: --gap, --over, --light, --u), also when nothing
//            was read; those of load_truing_readings
Result<std::vector<Observation>> truing_readings(const TruingTexts& texts, const Caliper& caliper);

}  // namespace stickwright
