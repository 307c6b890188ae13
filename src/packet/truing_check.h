// truing_check.h - one check of the truing card: how it is looked at, what a reading means, which leaf it calls for.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "batch/truing_look.h"
#include "packet/canvas.h"
#include "packet/page.h"

namespace stickwright {

struct TruingCheck {
  std::string title;
  std::string what, means;  // to do; and what a reading says
  TruingLook look;
  std::string leaf_place;   // where the leaf goes, in words; empty: no leaf for this
  std::string missing_key;  // of the shop file, that would give the leaf
  std::vector<std::string> blanks;
  double picture_height = 36;
  std::function<void(Canvas&, Box)> picture;
};

// In the order of work: tilt, roll, pitch, miter.
std::vector<TruingCheck> truing_checks(const Shop& shop, Mm stick);

// "Miter = light / (2 x 75 mm): 0.05 mm of light is 0.019°."
std::string formula_in_words(const TruingLook& look);

// "Below 0.006 mm of light leave it alone: ..."
std::string leave_in_words(const TruingLook& look);

// Readings and what they call for: leaves, or the angle where the shop file gives no lever. A row each of the strip:
// its first cell names it.
std::vector<Row> strip_rows(const TruingCheck& check, const Shop& shop);

double draw_truing_check(Canvas& canvas, At at, double width, const TruingCheck& check, const Shop& shop);

}  // namespace stickwright
