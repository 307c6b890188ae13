// numbers.h - numbers as all documents of JSON tell them.
#pragma once

namespace stickwright {

// A number for JSON to the millionth of its unit, lengths in mm to the nanometer: what lies beyond is rounding, and
// depends on the order in which threads add up.
double short_of(double v);

}  // namespace stickwright
