// row_motion.h - the exact yes or no of one set of motion rows: speeds that keep them all, or forces that exclude any.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "quantity/result.h"
#include "takeapart/motion_rows.h"

namespace stickwright {

struct RowMotion {
  Verdict verdict = Verdict::stopped;
  std::vector<std::int64_t> speed;  // found: [columns], not all zero, no opening below zero
  std::vector<std::int64_t> force;  // none_exists: [rows], all > 0, A'force = 0, while A has full rank
};

// Opens as many contacts as can be opened, all at once; when none can, slides with all of them kept.
//   returns  stopped when the floating-point answer could not be rounded to either
//   exact    speeds and forces are checked in whole numbers; the rank is bounded from below modulo a prime
RowMotion row_motion(const MotionRows& rows);

bool keeps_rows(const MotionRows& rows, std::span<const std::int64_t> speed);

}  // namespace stickwright
