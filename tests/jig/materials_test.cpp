#include "jig/materials.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

TEST(Materials, EveryFigureHasARangeAndASource) {
  EXPECT_EQ(all_materials().size(), 8u);
  for (const Material& m : all_materials()) {
    EXPECT_GT(m.modulus.value - half_width(m.modulus), 0) << m.name;
    EXPECT_GT(m.expansion.value - half_width(m.expansion), 0) << m.name;
    EXPECT_LT(m.poisson.value + half_width(m.poisson), 0.5) << m.name;
    EXPECT_GE(m.moisture.value, 0) << m.name;
    for (const Estimate* e : {&m.modulus, &m.poisson, &m.expansion, &m.moisture}) {
      EXPECT_FALSE(e->source.empty()) << m.name;
      EXPECT_EQ(e->spread, Spread::rectangular) << m.name;
    }
  }
}

TEST(Materials, AreFoundByTheirNames) {
  for (const Material& m : all_materials()) EXPECT_EQ(find_material(m.name).value().name, m.name);
  EXPECT_EQ(find_material("Acetal").value().name, "acetal");
  EXPECT_EQ(find_material("UHMW").value().name, "UHMW polyethylene");
  EXPECT_EQ(find_material("aluminium").value().name, "aluminum 5083 plate");
}

TEST(Materials, TheMakersOwnComeFirst) {
  const std::vector<Material> own = {{"acetal", within(2000, 0, Spread::rectangular, "measured"), {}, {}, {}}};
  EXPECT_EQ(find_material("ACETAL", own).value().modulus.value, 2000);
  EXPECT_EQ(find_material("steel", own).value().modulus.value, 207'500);
}

TEST(Materials, AnUnknownOneIsAnsweredWithTheNearest) {
  const auto found = find_material("acetel");
  ASSERT_FALSE(found);
  EXPECT_EQ(found.problem().code, "unknown_material");
  EXPECT_NE(found.problem().say.find("did you mean \"acetal\""), std::string::npos) << found.problem().say;
  EXPECT_NE(found.problem().say.find("[[material]]"), std::string::npos);
}

}  // namespace
}  // namespace stickwright
