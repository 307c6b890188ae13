// What the page is shown of a design is the design: volumes, places, woods, steps.
#include <set>

#include "puzzle_calls.h"

namespace stickwright {
namespace {

using nlohmann::json;

TEST_F(PuzzleCalls, TheStarsSixPiecesFillTheGoal) {
  const json p = get("/api/puzzle", {{"design", "star.toml"}});
  ASSERT_EQ(p["pieces"].size(), 6u);
  double pieces = 0;
  for (const json& piece : p["pieces"]) {
    pieces += wire_volume(piece["mesh"]);
    double blocks = 0;
    for (const json& b : piece["blocks"]) blocks += wire_volume(b["mesh"]);
    EXPECT_NEAR(blocks, wire_volume(piece["mesh"]), 1e-9) << piece["name"];
  }
  EXPECT_NEAR(pieces, p["goal"]["cells"].get<double>() * volume_of_cell(), 1e-9);
  const json d = get("/api/design", {{"file", "star.toml"}});
  EXPECT_NEAR(pieces, wire_volume(d["goal"]["mesh"]), 1e-9);
  EXPECT_EQ(p["verdict"], "found");
  EXPECT_EQ(p["unit_mm"], nullptr);
  EXPECT_FALSE(p["says"].empty());
}

TEST_F(PuzzleCalls, EveryStepSaysWhereEachPieceStandsAndGroupsMoveAsTold) {
  const json p = get("/api/puzzle", {{"design", "star.toml"}});
  ASSERT_FALSE(p["steps"].empty());
  for (const json& s : p["steps"]) {
    ASSERT_EQ(s["before"].size(), 6u);
    ASSERT_EQ(s["after"].size(), 6u);
    const auto moving = s["moves"].get<std::set<std::string>>();
    for (std::size_t i = 0; i < 6; ++i) {
      const bool moves = moving.contains(p["pieces"][i]["name"].get<std::string>());
      EXPECT_TRUE(!moves || s["before"][i] != s["after"][i]);
    }
    EXPECT_NE(s["says"].get<std::string>().find(*moving.begin()), std::string::npos);
  }
}

TEST_F(PuzzleCalls, WithABatchTheWoodsAndMillimetersAreThere) {
  const json p = get("/api/puzzle", {{"design", "star.toml"}, {"batch", "batch.toml"}});
  EXPECT_NEAR(p["unit_mm"].get<double>(), 16 / std::sqrt(2.0), 1e-9);
  std::map<std::string, int> woods;
  for (const json& piece : p["pieces"]) {
    ASSERT_EQ(piece["woods"].size(), 1u);
    ++woods[piece["woods"][0].get<std::string>()];
    for (const json& joint : piece["joints"])
      EXPECT_NEAR(joint["area_mm2"].get<double>(), joint["area_units"].get<double>() * 128, 1e-9);
  }
  EXPECT_EQ(woods, (std::map<std::string, int>{{"black cherry", 2}, {"black walnut", 2}, {"sugar maple", 2}}));
  EXPECT_GT(p["lightness"]["sugar maple"], p["lightness"]["black walnut"]);
  EXPECT_EQ(get("/api/puzzle", {{"design", "truing.toml"}, {"batch", "batch.toml"}}, 422)["code"], "not_in_batch");
}

// A piece of the star lies on each of the other five or on four of them; each pair is told once.
TEST_F(PuzzleCalls, WhoHoldsWhomAddsUpToTheHiddenFaces) {
  const json p = get("/api/puzzle", {{"design", "star.toml"}});
  double hidden = 0;
  std::set<std::pair<int, int>> pairs;
  for (const json& h : p["holds"]) {
    hidden += 2 * h["area_units"].get<double>();
    EXPECT_TRUE(pairs.insert(h["between"].get<std::pair<int, int>>()).second);
  }
  // Area of all pieces less that of the closed goal.
  const auto area = [](const json& mesh) {
    double sum = 0;
    const auto& t = mesh["tri"];
    for (std::size_t i = 0; i + 2 < t.size(); i += 3) {
      std::array<std::array<double, 3>, 3> c{};
      for (std::size_t k = 0; k < 3; ++k)
        for (std::size_t a = 0; a < 3; ++a) c[k][a] = mesh["xyz"][3 * t[i + k].get<std::size_t>() + a].get<double>();
      const double ux = c[1][0] - c[0][0], uy = c[1][1] - c[0][1], uz = c[1][2] - c[0][2];
      const double vx = c[2][0] - c[0][0], vy = c[2][1] - c[0][1], vz = c[2][2] - c[0][2];
      sum += std::hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
    }
    return sum;
  };
  double pieces = 0;
  for (const json& piece : p["pieces"]) pieces += area(piece["mesh"]);
  EXPECT_NEAR(pieces - area(get("/api/design", {{"file", "star.toml"}})["goal"]["mesh"]), hidden, 1e-9);
}

TEST_F(PuzzleCalls, ANotchedDesignIsShownWithoutBlocks) {
  put("cross.toml",
      "format = 1\nname = \"two bars\"\nfamily = \"notched\"\n\n[goal]\nbox = [4, 2, 1]\n\n[[piece]]\nname = \"bar\"\n"
      "copies = 2\nstick = [4, 1, 1]\n");
  const json p = get("/api/puzzle", {{"design", "cross.toml"}});
  ASSERT_EQ(p["pieces"].size(), 2u);
  EXPECT_TRUE(p["pieces"][0]["blocks"].empty());
  EXPECT_NEAR(wire_volume(p["pieces"][0]["mesh"]), 4, 1e-12);
  EXPECT_EQ(post("/api/glue", {{"design", "cross.toml"}, {"blocks", kArm}}, 422)["code"], "wrong_family");
  EXPECT_EQ(get("/api/blocks", {{"design", "cross.toml"}}, 422)["code"], "wrong_family");
}

TEST_F(PuzzleCalls, StepsAndBlocksAreThoseOfTheVerbs) {
  EXPECT_EQ(get("/api/steps", {{"design", "star.toml"}})["steps"].size(),
            get("/api/puzzle", {{"design", "star.toml"}})["steps"].size());
  const json b = get("/api/blocks", {{"design", "star.toml"}});
  EXPECT_EQ(b["pieces"][0]["blocks"].size(), 3u);
  EXPECT_TRUE(b["complete"]);
}

TEST_F(PuzzleCalls, TheCatalogueHasMeshesOfItsCells) {
  const json c = get("/api/catalogue");
  std::set<std::pair<std::string, std::string>> seen;
  for (const json& b : c["blocks"]) {
    EXPECT_TRUE(seen.insert({b["shape"], b["hand"].dump()}).second);
    EXPECT_NEAR(wire_volume(b["mesh"]), b["cells"].get<double>() * volume_of_cell(), 1e-9);
    EXPECT_EQ(b["can_be_sawn"].get<bool>(), b["why_not"].get<std::string>().empty());
  }
  EXPECT_TRUE(seen.contains({"prism block", "\"left\""}));
  EXPECT_TRUE(seen.contains({"squat octahedron", "null"}));
  EXPECT_TRUE(get("/api/catalogue", {{"family", "notched"}})["blocks"].empty());
  EXPECT_EQ(get("/api/catalogue", {{"family", "round"}}, 422)["code"], "unknown_family");
}

TEST_F(PuzzleCalls, NothingOutsideOfTheFolderIsRead) {
  for (const char* path : {"/api/puzzle", "/api/steps", "/api/blocks"})
    EXPECT_EQ(get(path, {{"design", "../star.toml"}}, 403)["code"], "outside_folder") << path;
  EXPECT_EQ(get("/api/design", {{"file", "/etc/hostname"}}, 403)["code"], "outside_folder");
  EXPECT_EQ(post("/api/glue", {{"design", "../x.toml"}, {"blocks", kArm}}, 403)["code"], "outside_folder");
  EXPECT_EQ(get("/api/design", {{"file", "nothing.toml"}}, 404)["code"], "no_file");
}

}  // namespace
}  // namespace stickwright
