#include "packet/packet.h"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <random>

#include "packet/printed.h"
#include "packet/solid.h"
#include "support/example_plan.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

struct Written {
  Scratch scratch{"packet"};
  std::string path = (scratch.path / "packet.pdf").string();
  int pages = 0;
  explicit Written(Paper paper) {
    const auto result = write_packet(example(), paper, path);
    EXPECT_TRUE(result) << result.problem().say;
    pages = result.value();
  }
};

TEST(Packet, IsA4OrLetterWithTheStatedNumberOfPages) {
  const Written a4(Paper::a4), letter(Paper::letter);
  EXPECT_NE(printed_by("pdfinfo " + a4.path).find("595.276 x 841.89 pts (A4)"), std::string::npos);
  EXPECT_NE(printed_by("pdfinfo " + letter.path).find("612 x 792 pts (letter)"), std::string::npos);
  EXPECT_NE(printed_by("pdfinfo " + a4.path).find("Pages:           " + std::to_string(a4.pages)), std::string::npos);
  EXPECT_GE(a4.pages, 9);
}

TEST(Packet, EmbedsItsFontsAndHoldsNoPicturesOfPixels) {
  const Written w(Paper::a4);
  const std::string fonts = printed_by("pdffonts " + w.path + " | tail -n +3");
  EXPECT_NE(fonts.find("DejaVuSans"), std::string::npos);
  EXPECT_EQ(fonts.find(" no  "), std::string::npos) << fonts;  // the column "emb"
  EXPECT_EQ(printed_by("pdfimages -list " + w.path + " | tail -n +3"), "");
}

TEST(Packet, SaysWhatTheMakerNeedsAtTheSaw) {
  const Written w(Paper::a4);
  const std::string text = printed_by("pdftotext -layout " + w.path + " -");
  for (const auto& s : example().batch.set_ups) {
    EXPECT_NE(text.find(example().batch.split.shapes[s.shape].full_name()), std::string::npos);
    EXPECT_NE(text.find(std::to_string(s.blocks()) + " blocks"), std::string::npos);
  }
  for (const char* words : {"22.627 mm", "Gauge blocks", "PROVE IT", "pencil line", "Readings across flats", "Sticks",
                            "Glue-up: arm", "The weeks at a glance", "Evening by evening",
                            "For the owner: six-piece star", "does not say that a cut is safe"})
    EXPECT_NE(text.find(words), std::string::npos) << words;
}

TEST(Packet, IsTheSameFileOnEveryRun) {
  const Written first(Paper::a4), second(Paper::a4);
  EXPECT_EQ(slurp(first.path), slurp(second.path));
}

TEST(Packet, AFolderThatCannotBeWrittenIsToldAndLeavesNothing) {
  const Scratch s("blocked");
  s.write("file", "in the way");
  const auto result = write_packet(example(), Paper::a4, (s.path / "file" / "packet.pdf").string());
  ASSERT_FALSE(result);
  EXPECT_EQ(result.problem().code, "cannot_write");
  EXPECT_EQ(std::distance(std::filesystem::directory_iterator(s.path), {}), 1);  // the file that was there
}

// From the definition: two random points in two cells such that the second lies further along a ray towards the eye.
TEST(PaintOrder, NeverPaintsAHiddenCellOverTheOneInFront) {
  std::mt19937 rng(2);
  std::vector<Cell> cells;
  for (std::int64_t x = -8; x <= 8; ++x)
    for (std::int64_t y = -8; y <= 8; ++y)
      for (std::int64_t z = -8; z <= 8; ++z)
        if (mitered().is_cell({x, y, z})) cells.push_back({x, y, z});
  const auto holds = [](Cell c, const std::array<double, 3>& p) {
    for (const HalfSpace& h : mitered().planes(c))
      if (double(h.n.x) * p[0] + double(h.n.y) * p[1] + double(h.n.z) * p[2] > double(h.c) + 1e-9) return false;
    return true;
  };
  std::uniform_real_distribution<double> along(0.01, 1.2), corner(0, 1);
  int pairs = 0;
  for (int k = 0; k < 3000; ++k) {
    const Cell behind = cells[rng() % cells.size()];
    std::array<double, 3> p{};
    double weight = 0;
    for (Vec v : mitered().corners(behind)) {
      const double w = 0.05 + corner(rng);
      for (int axis = 0; axis < 3; ++axis) p[axis] += w * double(v[axis]);
      weight += w;
    }
    for (double& c : p) c /= weight;
    const double s = along(rng);
    const std::array<double, 3> q = {p[0] + s * double(kEye.x), p[1] + s * double(kEye.y), p[2] + s * double(kEye.z)};
    for (Cell front : cells)
      if (front != behind && holds(front, q)) {
        EXPECT_LT(paint_order(mitered(), behind), paint_order(mitered(), front));
        ++pairs;
      }
  }
  EXPECT_GT(pairs, 500);
}

TEST(Eye, SeesNoFaceEdgeOn) {
  for (Vec n : mitered().separators()) EXPECT_NE(dot(n, kEye), 0);
}

}  // namespace
}  // namespace stickwright
