#include "wood/species.h"

#include <gtest/gtest.h>

#include <set>

namespace stickwright {
namespace {

const Species& wood(std::string_view name) {
  const auto found = find_species(name);
  EXPECT_TRUE(found) << name;
  return *found.value();
}

// Wood Handbook, FPL-GTR-190 (2010), Table 13-5, coefficients for dimensional change, radial and tangential.
TEST(Species, CoefficientsAreThoseOfTable13_5) {
  const struct {
    const char* name;
    double radial, tangential;
  } rows[] = {
      {"black cherry", 0.00126, 0.00248}, {"sugar maple", 0.00165, 0.00353},  {"black walnut", 0.00190, 0.00274},
      {"white ash", 0.00169, 0.00274},    {"yellow birch", 0.00256, 0.00338}, {"American beech", 0.00190, 0.00431},
      {"basswood", 0.00230, 0.00330},     {"white oak", 0.00180, 0.00365},    {"sweetgum", 0.00183, 0.00365}};
  for (const auto& row : rows) {
    EXPECT_EQ(wood(row.name).radial->value, row.radial) << row.name;
    EXPECT_EQ(wood(row.name).tangential->value, row.tangential) << row.name;
    EXPECT_EQ(wood(row.name).tangential->basis, Basis::read) << row.name;
  }
}

// The same, Table 5-3: specific gravity at 12 %, ovendry mass over volume at 12 %, so density is 1120 times as much.
TEST(Species, DensityIs1120TimesTheSpecificGravityOfTable5_3) {
  const struct {
    const char* name;
    double gravity;
  } rows[] = {{"black cherry", 0.50},   {"sugar maple", 0.63}, {"red maple", 0.54}, {"white ash", 0.60},
              {"American beech", 0.64}, {"basswood", 0.37},    {"butternut", 0.38}, {"red alder", 0.41}};
  for (const auto& row : rows) EXPECT_NEAR(wood(row.name).density->value, 1120 * row.gravity, 0.5) << row.name;
}

// The same, Table 5-3: side hardness at 12 %, 950 lbf for black cherry and 1450 lbf for sugar maple; 1 lbf = 4.44822 N.
TEST(Species, HardnessOfCherryAndMapleIsThatOfTable5_3) {
  EXPECT_NEAR(wood("black cherry").hardness->value, 950 * 4.44822, 10);
  EXPECT_NEAR(wood("sugar maple").hardness->value, 1450 * 4.44822, 10);
}

// The same, note to Table 13-5 (from memory): C = (S / 30) / (1 - S (30 - 10) / 30) with the shrinkages of Table 4-3.
TEST(Species, CoefficientsAgreeWithTheShrinkagesOfTable4_3) {
  const struct {
    const char* name;
    double radial, tangential;  // percent, green to ovendry
  } rows[] = {{"black cherry", 3.7, 7.1}, {"black walnut", 5.5, 7.8}, {"white ash", 4.9, 7.8},
              {"butternut", 3.4, 6.4},    {"basswood", 6.6, 9.3},     {"American elm", 4.2, 9.5}};
  const auto coefficient = [](double percent) { return percent / 100 / 30 / (1 - percent / 100 * 20 / 30); };
  for (const auto& row : rows) {
    EXPECT_NEAR(wood(row.name).radial->value, coefficient(row.radial), 6e-6) << row.name;
    EXPECT_NEAR(wood(row.name).tangential->value, coefficient(row.tangential), 6e-6) << row.name;
  }
}

TEST(Species, TangentialMovesMoreThanRadialAndAllFiguresArePlausible) {
  for (const Species& s : all_species()) {
    if (s.density) {
      EXPECT_TRUE(s.density->value > 100 && s.density->value < 1400) << s.name;
    }
    if (s.radial && s.tangential) {
      EXPECT_LT(s.radial->value, s.tangential->value) << s.name;
    }
    if (s.hardness) {
      EXPECT_TRUE(s.hardness->value > 1000 && s.hardness->value < 20000) << s.name;
    }
  }
}

TEST(Species, EveryNameBelongsToOneSpeciesAndIsFound) {
  std::set<std::string_view> names;
  for (const Species& s : all_species()) {
    EXPECT_TRUE(names.insert(s.name).second) << s.name;
    EXPECT_EQ(&wood(s.name), &s);
    for (const auto other : s.also) {
      if (other.empty()) continue;
      EXPECT_TRUE(names.insert(other).second) << other;
      EXPECT_EQ(&wood(other), &s);
    }
  }
}

TEST(Species, CapitalsAndSpacesDoNotMatter) {
  EXPECT_EQ(wood("  Black   CHERRY ").name, "black cherry");
  EXPECT_EQ(wood("Walnut").name, "black walnut");
}

TEST(Species, AnUnknownWoodIsAnsweredWithTheNearestNames) {
  const auto typo = find_species("black chery");
  ASSERT_FALSE(typo);
  EXPECT_EQ(typo.problem().code, "unknown_wood");
  EXPECT_NE(typo.problem().say.find("\"black cherry\""), std::string::npos) << typo.problem().say;
  const auto vague = find_species("maple");
  ASSERT_FALSE(vague);
  EXPECT_NE(vague.problem().say.find("\"red maple\""), std::string::npos) << vague.problem().say;
  EXPECT_NE(vague.problem().say.find("\"sugar maple\""), std::string::npos) << vague.problem().say;
  EXPECT_FALSE(find_species(""));
  EXPECT_FALSE(find_species("granite countertop"));
}

TEST(Species, DustOfOakBeechAndWalnutIsWarnedOf) {
  for (const char* name : {"white oak", "red oak", "beech", "walnut", "teak", "padauk", "Indian rosewood"})
    EXPECT_FALSE(wood(name).caution.empty()) << name;
  EXPECT_NE(dust_caution().find("respirator"), std::string_view::npos);
}

TEST(Species, AFigureFromMemorySaysSo) {
  EXPECT_EQ(basis_text(wood("bubinga").density->basis), "from memory");
  EXPECT_EQ(basis_text(wood("black cherry").density->basis), "published");
}

}  // namespace
}  // namespace stickwright
