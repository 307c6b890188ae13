// Saving writes the one piece, only on the file that was read, and only what a design may hold.
#include <chrono>
#include <thread>

#include "design/design_file.h"
#include "puzzle_calls.h"

namespace stickwright {
namespace {

using nlohmann::json;

class DesignSave : public PuzzleCalls {
 protected:
  json piece(const json& blocks, const json& index = 0) {
    return {{"file", "star.toml"}, {"version", version()}, {"piece", index},           {"name", "arm"},
            {"copies", 6},         {"blocks", blocks},     {"datum", {"+x+y", "+x-y"}}};
  }
  std::string version() { return get("/api/design", {{"file", "star.toml"}})["version"]; }
};

TEST_F(DesignSave, WhatTheFileSaysIsShownAndSavedBackByteForByte) {
  const std::string before = text("star.toml");
  const json d = get("/api/design", {{"file", "star.toml"}});
  EXPECT_EQ(d["cells_left"], 0);
  EXPECT_EQ(d["goal"]["says"], "the first stellation of the rhombic dodecahedron");
  json save = d["pieces"][0];
  for (const char* key : {"cells", "handed", "mesh"}) save.erase(key);
  save["file"] = "star.toml", save["version"] = d["version"], save["piece"] = 0;
  EXPECT_EQ(post("/api/design/piece", save)["version"], d["version"]);
  EXPECT_EQ(text("star.toml"), before);
}

TEST_F(DesignSave, AHalfBuiltDesignIsKeptAndSaysHowMuchIsOpen) {
  const std::string before = text("star.toml");
  json half = kArm;
  half.erase(2);
  const json saved = post("/api/design/piece", piece(half));
  const json d = get("/api/design", {{"file", "star.toml"}});
  EXPECT_EQ(d["version"], saved["version"]);
  EXPECT_EQ(d["cells_left"], 12);
  EXPECT_TRUE(d["draft"]);
  const json p = get("/api/puzzle", {{"design", "star.toml"}});
  EXPECT_EQ(p["goes_together"], false);
  EXPECT_NE(p["says"].dump().find("12 cells of the goal are not filled yet"), std::string::npos);
  post("/api/design/piece", piece(kArm));
  EXPECT_EQ(text("star.toml"), before);
}

TEST_F(DesignSave, AFileThatSomebodyHasChangedIsLeftAlone) {
  json save = piece(kArm);
  put("star.toml", text("star.toml") + "# a note\n");
  const std::string theirs = text("star.toml");
  EXPECT_EQ(post("/api/design/piece", save, 409)["code"], "changed_since");
  EXPECT_EQ(post("/api/design/piece/remove", {{"file", "star.toml"}, {"version", save["version"]}, {"piece", 0}},
                 409)["code"],
            "changed_since");
  EXPECT_EQ(text("star.toml"), theirs);
}

TEST_F(DesignSave, WhatNoDesignMayHoldIsNotWritten) {
  const std::string before = text("star.toml");
  json twice = kArm;
  twice.push_back(kArm[1]);
  EXPECT_EQ(post("/api/design/piece", piece(twice), 422)["code"], "no_way_to_glue");
  EXPECT_EQ(post("/api/design/piece", piece(kArm, nullptr), 422)["code"], "name_twice");
  json bad = piece(kArm);
  bad["datum"] = {"+z+z"};
  EXPECT_EQ(post("/api/design/piece", bad, 422)["code"], "bad_face");
  bad = piece(kArm);
  bad["file"] = "../star.toml";
  EXPECT_EQ(post("/api/design/piece", bad, 403)["code"], "outside_folder");
  bad = piece(kArm);
  bad["name"] = "two\nlines";
  EXPECT_EQ(post("/api/design/piece", bad, 422)["code"], "bad_text");
  EXPECT_EQ(
      post("/api/design/piece/remove", {{"file", "star.toml"}, {"version", version()}, {"piece", 0}}, 422)["code"],
      "missing_key");
  EXPECT_EQ(text("star.toml"), before);
}

TEST_F(DesignSave, APieceIsAddedAndTakenAwayAgain) {
  const std::string before = text("star.toml");
  json more = piece({{{"shape", "squat octahedron"}}}, nullptr);
  more["name"] = "plug", more["copies"] = 1, more["datum"] = json::array(), more["optional"] = true;
  post("/api/design/piece", more);
  EXPECT_EQ(get("/api/design", {{"file", "star.toml"}})["pieces"].size(), 2u);
  post("/api/design/piece/remove", {{"file", "star.toml"}, {"version", version()}, {"piece", 1}});
  EXPECT_EQ(get("/api/design", {{"file", "star.toml"}})["pieces"].size(), 1u);
  EXPECT_TRUE(text("star.toml").starts_with(before));
}

TEST_F(DesignSave, ANewDesignIsMadeOnceOnly) {
  const json mine = {{"file", "mine.toml"},
                     {"name", "my star"},
                     {"family", "mitered"},
                     {"goal", {{"solid", "first stellation of the rhombic dodecahedron"}, {"size", 1}}},
                     {"piece", {{"name", "arm"}, {"copies", 6}, {"blocks", kArm}}}};
  post("/api/design/new", mine, 201);
  EXPECT_EQ(get("/api/puzzle", {{"design", "mine.toml"}})["verdict"], "found");
  const std::string first = text("mine.toml");
  EXPECT_EQ(post("/api/design/new", mine, 409)["code"], "is_there");
  EXPECT_EQ(text("mine.toml"), first);
  json bad = mine;
  bad["file"] = "../mine.toml";
  EXPECT_EQ(post("/api/design/new", bad, 403)["code"], "outside_folder");
  bad["file"] = "notes.txt";
  EXPECT_EQ(post("/api/design/new", bad, 422)["code"], "bad_name");
}

const json* piece_named(const json& design, const std::string& name) {
  for (const json& p : design["pieces"])
    if (p["name"] == name) return &p;
  return nullptr;
}

TEST_F(DesignSave, APieceGivenAsCellsIsRenamedAndItsCellsStay) {
  const std::string before = text("second.toml");
  const json d = get("/api/design", {{"file", "second.toml"}});
  ASSERT_TRUE(d["pieces"][0]["blocks"].is_null());
  json save = {{"file", "second.toml"}, {"version", d["version"]}, {"piece", 0},       {"name", "feather"},
               {"copies", 7},           {"mirrored_copies", 1},    {"blocks", nullptr}};
  post("/api/design/piece", save);
  const json now = get("/api/design", {{"file", "second.toml"}});
  EXPECT_EQ(now["pieces"][0]["name"], "feather");
  EXPECT_EQ(now["pieces"][0]["copies"], 7);
  EXPECT_EQ(now["pieces"][0]["mirrored_copies"], 1);
  EXPECT_EQ(now["pieces"][0]["mesh"], d["pieces"][0]["mesh"]);
  const auto cells = [](const std::string& t) { return t.substr(t.find("cells = [")); };
  EXPECT_EQ(cells(text("second.toml")), cells(before));
}

TEST_F(DesignSave, APieceGivenAsCellsIsBuiltFromItsBlocksAndStaysTheSamePiece) {
  const json before = get("/api/design", {{"file", "second.toml"}});
  const json as = get("/api/design/blocks", {{"file", "second.toml"}, {"piece", "0"}});
  EXPECT_EQ(as["version"], before["version"]);
  // What the file's own remark says of the piece.
  ASSERT_EQ(as["blocks"].size(), 4u);
  for (const json& b : as["blocks"]) EXPECT_EQ(b["shape"], "prism block") << b;
  for (const json& b : as["blocks"]) EXPECT_EQ(b["hand"], "right") << b;
  const json glued = post("/api/glue", {{"blocks", as["blocks"]}});
  EXPECT_EQ(glued["mesh"], before["pieces"][0]["mesh"]);
  post("/api/design/piece", {{"file", "second.toml"},
                             {"version", before["version"]},
                             {"piece", 0},
                             {"name", "wing"},
                             {"copies", 8},
                             {"blocks", as["blocks"]}});
  const json after = get("/api/design", {{"file", "second.toml"}});
  EXPECT_EQ(after["pieces"][0]["mesh"], before["pieces"][0]["mesh"]);
  EXPECT_EQ(after["pieces"][0]["blocks"].size(), 4u);
  EXPECT_EQ(text("second.toml").find("cells ="), std::string::npos);
  EXPECT_EQ(get("/api/design/blocks", {{"file", "second.toml"}, {"piece", "1"}}, 422)["code"], "out_of_range");
  EXPECT_EQ(get("/api/design/blocks", {{"file", "second.toml"}, {"piece", "x"}}, 422)["code"], "out_of_range");
}

TEST_F(DesignSave, UnderAnotherNameTheWholeDesignGoesAlong) {
  put("two.toml", "# by hand\n" + text("star.toml") +
                      "\n# the key\n[[piece]]\nname = \"key\"\noptional = true\nblocks = [{ shape = \"prism block\", "
                      "hand = \"left\" }]\n");
  const std::string before = text("two.toml");
  const json d = get("/api/design", {{"file", "two.toml"}});
  json copy = piece(kArm);
  copy["file"] = "two.toml", copy["version"] = d["version"], copy["as"] = "third.toml", copy["name"] = "limb";
  post("/api/design/copy", copy, 201);
  EXPECT_EQ(text("two.toml"), before);
  std::string expected = before;
  const auto at = expected.find("name = \"arm\"");
  ASSERT_NE(at, std::string::npos);
  EXPECT_EQ(text("third.toml"), expected.replace(at, 12, "name = \"limb\""));
  const json there = get("/api/design", {{"file", "third.toml"}});
  EXPECT_EQ(*piece_named(there, "key"), *piece_named(d, "key"));
  EXPECT_EQ(there["goal"], d["goal"]);
  EXPECT_EQ(post("/api/design/copy", copy, 409)["code"], "is_there");
  copy["as"] = "../fourth.toml";
  EXPECT_EQ(post("/api/design/copy", copy, 403)["code"], "outside_folder");
  copy["as"] = "fourth.toml";
  put("two.toml", before + "# a note\n");
  EXPECT_EQ(post("/api/design/copy", copy, 409)["code"], "changed_since");
  EXPECT_FALSE(std::filesystem::exists(root_ / "fourth.toml"));
}

// Of many who save at once with one version, one wins.
TEST_F(DesignSave, OfSavesWithOneVersionOneWins) {
  json half = kArm;
  half.erase(2);
  const json save = piece(half);
  std::atomic<int> won = 0, lost = 0;
  std::vector<std::thread> threads;
  for (int k = 0; k < 6; ++k)
    threads.emplace_back([&] {
      const int status = call("POST", "/api/design/piece", save).status;
      won += status == 200, lost += status == 409;
    });
  for (std::thread& t : threads) t.join();
  EXPECT_EQ(won, 1);
  EXPECT_EQ(lost, 5);
}

// ---- checking as long work ----

// A box of 4 x 5 cubes filled with dominoes: the grid of 4 x 5 has 95 fillings (Kasteleyn 1961), so a flat box of
// 10 bars in 4 x 5 x 1 goes together in 95 ways, turned copies counted apart.
std::string dominoes(int wide, int deep, int high) {
  const int n = wide * deep * high / 2;
  return "format = 1\nname = \"bars\"\nfamily = \"notched\"\n\n[goal]\nbox = [" + std::to_string(wide) + ", " +
         std::to_string(deep) + ", " + std::to_string(high) +
         "]\n\n[[piece]]\nname = \"bar\"\ncopies = " + std::to_string(n) + "\nstick = [2, 1, 1]\n";
}

json finished(Workbench& bench, const std::string& id) {
  for (int k = 0; k < 3000; ++k) {
    const json s = *bench.jobs().snapshot(id);
    if (s["state"] != "running" && s["state"] != "waiting") return s;
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  ADD_FAILURE() << "the job did not end";
  return {};
}

TEST_F(DesignSave, ACheckFindsWhatTheCountingFormulaSays) {
  put("bars.toml", dominoes(4, 5, 1));
  const std::string id = post("/api/check", {{"design", "bars.toml"}}, 202)["job"];
  const json s = finished(*bench_, id);
  EXPECT_EQ(s["state"], "done");
  EXPECT_EQ(s["result"]["assemblies"]["turned_copies"], 95);
  EXPECT_EQ(s["result"]["complete"], true);
  EXPECT_EQ(s["items"].size(), s["result"]["assemblies"]["count"]);
  EXPECT_EQ(s["items"][0]["cells"].size(), 10u);
}

TEST_F(DesignSave, ACancelledCheckKeepsWhatItFound) {
  put("many.toml", dominoes(5, 4, 2));
  const std::string id = post("/api/check", {{"design", "many.toml"}, {"threads", 1}}, 202)["job"];
  for (int k = 0; k < 2000 && (*bench_->jobs().snapshot(id))["items"].size() < 20; ++k)
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  EXPECT_TRUE(bench_->jobs().cancel(id));
  const json s = finished(*bench_, id);
  EXPECT_EQ(s["state"], "cancelled");
  EXPECT_GE(s["items"].size(), 20u);
  EXPECT_LE(s["items"].size(), 2000u);
  ASSERT_TRUE(s.contains("result")) << s.dump().substr(0, 300);
  EXPECT_EQ(s["result"]["complete"], false);
  EXPECT_EQ(s["result"]["assemblies"]["complete"], false);
  EXPECT_GE(s["result"]["assemblies"]["count"].get<std::int64_t>(), 20);
}

// No branch of this search ends within the time that is waited.
TEST_F(DesignSave, ACheckTellsAssembliesAsTheyAreFoundAndThatItGoesOn) {
  put("many.toml", dominoes(6, 5, 4));
  const std::string id = post("/api/check", {{"design", "many.toml"}}, 202)["job"];
  const auto begun = std::chrono::steady_clock::now();
  json s;
  do {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    s = *bench_->jobs().snapshot(id);
  } while ((s["items"].size() < 2000 || s["words"].get<std::string>().find("choices tried") == std::string::npos) &&
           std::chrono::steady_clock::now() - begun < std::chrono::seconds(5));
  EXPECT_EQ(s["items"].size(), 2000u);
  EXPECT_NE(s["words"].get<std::string>().find("choices tried"), std::string::npos) << s["words"];
  EXPECT_TRUE(bench_->jobs().cancel(id));
  EXPECT_GE(finished(*bench_, id)["result"]["assemblies"]["count"].get<std::int64_t>(), 2000);
}

TEST_F(DesignSave, ACheckOfWhatIsNoDesignIsRefusedAtOnce) {
  EXPECT_EQ(post("/api/check", {{"design", "shop.toml"}}, 422)["code"].get<std::string>().empty(), false);
  EXPECT_EQ(post("/api/check", {{"design", "../x.toml"}}, 403)["code"], "outside_folder");
  EXPECT_EQ(post("/api/check", {{"design", "star.toml"}, {"threads", -1}}, 422)["code"], "out_of_range");
}

}  // namespace
}  // namespace stickwright
