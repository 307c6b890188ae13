// star_plan.h - the plan of the example batch with its first design only, made once for all tests of a program.
#pragma once
#include <gtest/gtest.h>

#include "batch/full_plan.h"
#include "support/scratch.h"

namespace stickwright {

// returns  the batch file, beside its shop and its design
inline std::string star_batch(const Scratch& s) {
  const std::string from = STICKWRIGHT_SOURCE "/examples/wrenfield/";
  for (const char* file : {"shop.toml", "star.toml"}) s.write(file, slurp(from + file));
  std::string batch = slurp(from + "batch.toml");
  const std::size_t second = batch.find("[[puzzle]]", batch.find("[[puzzle]]") + 1);
  if (second != std::string::npos) {
    const std::size_t end = std::min(batch.find("\n[fit]", second), batch.find("\n[customer]", second));
    batch.erase(second, end == std::string::npos ? end : end - second);
  }
  // Few puzzles are enough to have numbers to print.
  const std::size_t fit = batch.find("\n[fit]\n");
  if (fit != std::string::npos) batch.insert(fit + 7, "samples = 2000\n");
  return s.write("batch.toml", batch);
}

inline const FullPlan& star_plan() {
  static const Scratch scratch("star");
  static const auto plan = plan_batch(star_batch(scratch));
  EXPECT_TRUE(plan) << plan.problem().say;
  return plan.value();
}

}  // namespace stickwright
