#include "metrology/run_advice.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

const Wanted kWanted = {.size = 16, .tolerance = 0.05, .least_sigma = 0.003};

RunReport report(const std::vector<double>& readings) {
  return report_run(readings, kWanted);
}

std::vector<double> steady(std::size_t count) {
  std::vector<double> out;
  for (std::size_t i = 0; i < count; ++i)
    out.push_back(16 + std::vector<double>{0.005, -0.005, 0, 0.005, -0.01, 0.005}[i % 6]);
  return out;
}

TEST(RunAdvice, SteadyReadingsGoOn) {
  EXPECT_EQ(report(steady(30)).advice, Advice::go_on);
  EXPECT_EQ(report({16.0}).advice, Advice::go_on);
  EXPECT_NE(report(steady(5)).reason.find("20"), std::string::npos);
}

TEST(RunAdvice, NothingMeasuredIsCheck) {
  const RunReport r = report({});
  EXPECT_EQ(r.advice, Advice::check);
  EXPECT_FALSE(r.mean);
  EXPECT_FALSE(r.sd);
}

TEST(RunAdvice, LastReadingOutsideTheToleranceStopsAndOnItsEndDoesNot) {
  EXPECT_EQ(report({16.0, 16.01, 16.051}).advice, Advice::stop);
  EXPECT_EQ(report({16.0, 16.01, 15.949}).advice, Advice::stop);
  EXPECT_EQ(report({16.05}).advice, Advice::go_on);
  EXPECT_EQ(report({15.95}).advice, Advice::go_on);
  EXPECT_EQ(report({16.051}).outside, 1u);
}

TEST(RunAdvice, AnOutsideReadingAmongTheNewestIsCheckAndAnOldOneIsNot) {
  auto readings = steady(12);
  readings[6] = 16.06;  // with it, the sixth from the end
  EXPECT_EQ(report(readings).advice, Advice::check);
  auto old = steady(60);
  old[2] = 16.06;
  EXPECT_EQ(report(old).advice, Advice::go_on) << report(old).reason;
}

TEST(RunAdvice, LastReadingBeyondAControlLimitStopsThoughInTolerance) {
  auto readings = steady(24);
  for (double& x : readings) x = 16 + (x - 16) / 2;
  readings.push_back(16.045);
  const RunReport r = report(readings);
  EXPECT_EQ(r.advice, Advice::stop) << r.reason;
  EXPECT_NE(r.reason.find("Reading 25"), std::string::npos) << r.reason;
}

TEST(RunAdvice, ALastReadingBeyondALimitAtTheEndOfACreepIsToldAsACreep) {
  std::vector<double> readings = steady(60);
  for (std::size_t i = 0; i < readings.size(); ++i) readings[i] += 0.001 * static_cast<double>(i) - 0.03;
  readings.push_back(16.045);
  const RunReport r = report(readings);
  EXPECT_EQ(r.advice, Advice::stop) << r.reason;
  EXPECT_NE(r.reason.find("creeps by +0.00"), std::string::npos) << r.reason;
}

// Limits from a few readings say little: nothing but the tolerance stops the saw then.
TEST(RunAdvice, BeyondALimitWithFewerThanTenReadingsIsCheck) {
  const RunReport r = report({16, 16, 16.001, 16, 16, 16.001, 16, 16.02});
  ASSERT_FALSE(r.signals.empty());
  EXPECT_EQ(r.advice, Advice::check) << r.reason;
}

TEST(RunAdvice, AShiftIsCheck) {
  auto readings = steady(16);
  for (std::size_t i = 8; i < 16; ++i) readings[i] += 0.03;
  EXPECT_EQ(report(readings).advice, Advice::check);
}

TEST(RunAdvice, ASlowDriftIsSeenBeforeItLeavesTheTolerance) {
  auto readings = steady(18);
  for (std::size_t i = 0; i < readings.size(); ++i) readings[i] += 0.0015 * static_cast<double>(i) + 0.005;
  const RunReport r = report(readings);
  EXPECT_EQ(r.outside, 0u);
  EXPECT_EQ(r.advice, Advice::check) << r.reason;
  EXPECT_LT(r.drift->p, 0.01);
}

TEST(RunAdvice, ASpreadTooWideForTheToleranceIsCheck) {
  std::vector<double> readings;
  for (int i = 0; i < 30; ++i) readings.push_back(16 + std::vector<double>{0.04, -0.03, 0.0, -0.04, 0.03}[i % 5]);
  const RunReport r = report(readings);
  EXPECT_LT(r.capability->cpk, 1);
  EXPECT_EQ(r.advice, Advice::check);
  EXPECT_NE(r.reason.find("Cpk"), std::string::npos) << r.reason;
}

// A caliper that shows hundredths: equal readings are no proof of a perfect saw.
TEST(RunAdvice, EqualReadingsAreSteady) {
  const RunReport r = report(std::vector<double>(25, 16.02));
  EXPECT_EQ(r.advice, Advice::go_on) << r.reason;
  EXPECT_TRUE(r.signals.empty());
  EXPECT_NEAR(r.capability->cpk, 0.03 / 0.009, 1e-9);
}

}  // namespace
}  // namespace stickwright
