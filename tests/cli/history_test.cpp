// What the readings say, stop by stop; pictures of it; what is said before there are any.
#include <gtest/gtest.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

std::string readings_of(int count) {
  std::string text = "value\n";
  for (int i = 0; i < count; ++i) text += "16.0" + std::to_string(10 + (i * 7) % 13) + "\n";
  return text;
}

TEST(History, BeforeAnythingIsRecordedItSaysSoAndMakesNoFile) {
  const Scratch s("history");
  const std::string batch = small_batch(s);
  const Ran r = run_program_with("history " + batch);
  EXPECT_EQ(r.exit_code, 0);
  EXPECT_NE(r.out.find("Nothing has been recorded"), std::string::npos) << r.out;
  const Json j = Json::parse(run_program_with("history " + batch + " --json").out);
  EXPECT_TRUE(j["ledger"].is_null());
  EXPECT_TRUE(j["stops"].empty());
  EXPECT_FALSE(std::filesystem::exists(s.path / "batch.ledger"));
}

TEST(History, IsToldStopByStopAndFirstWhetherToGoOn) {
  const Scratch s("history");
  const std::string batch = small_batch(s);
  ASSERT_EQ(run_program_with("record " + batch + " --setup 1 16.00 16.01 16.02").exit_code, 0);
  ASSERT_EQ(run_program_with("record " + batch + " --setup squat-octahedron --stop 2 16.00 16.07").exit_code, 0);
  const Json j = Json::parse(run_program_with("history " + batch + " --json").out);
  ASSERT_EQ(j["stops"].size(), 2u);
  EXPECT_EQ(j["stops"][0]["setup"], "rhombic-pyramid-block");
  EXPECT_EQ(j["stops"][1]["stop"], 2);
  EXPECT_EQ(j["stops"][1]["verdict"], "stop");
  const Ran page = run_program_with("history " + batch + " --setup 2");
  EXPECT_EQ(page.exit_code, 0);
  EXPECT_EQ(page.out.find("squat octahedron (squat-octahedron), stop 2\n  Stop. "), 0u) << page.out;
  EXPECT_NE(page.out.find("\n  o reading, X part of a signal"), std::string::npos) << page.out;
  EXPECT_EQ(Json::parse(run_program_with("history " + batch + " --setup 2 --stop 1 --json").out)["stops"].size(), 0u);
  EXPECT_EQ(run_program_with("history " + batch + " --setup 2 --stop 5").exit_code, 2);
}

TEST(History, AsATableItHasEveryColumn) {
  const Scratch s("history");
  const std::string batch = small_batch(s);
  ASSERT_EQ(run_program_with("record " + batch + " --setup 2 16.00 16.01 --note 'a, \"b\"'").exit_code, 0);
  const Ran r = run_program_with("history " + batch + " --csv");
  const std::string head = "id,setup,stop,value_mm,first_value_mm,at,taken_at,stick,wood,instrument,by,entered,note,width,block\n";
  EXPECT_EQ(r.out.find(head), 0u) << r.out;
  EXPECT_NE(r.out.find("1,squat-octahedron,1,16.000000,16.000000,"), std::string::npos) << r.out;
  EXPECT_NE(r.out.find("\"a, \"\"b\"\"\",,\n"), std::string::npos) << r.out;
}

TEST(History, DrawsAChartOfEveryStop) {
  const Scratch s("history");
  const std::string batch = small_batch(s);
  const std::string csv = s.write("r.csv", readings_of(40));
  ASSERT_EQ(run_program_with("record " + batch + " --setup 2 --csv " + csv).exit_code, 0);
  const auto folder = s.path / "charts";
  ASSERT_EQ(run_program_with("history " + batch + " --chart " + folder.string()).exit_code, 0);
  const auto svg = folder / "squat-octahedron-stop-1.svg", pdf = folder / "squat-octahedron-stop-1.pdf";
  EXPECT_EQ(slurp(svg).find("<?xml"), 0u);
  EXPECT_NE(slurp(svg).find("</svg>"), std::string::npos);
  EXPECT_EQ(slurp(pdf).find("%PDF"), 0u);
  const auto text = s.path / "chart.txt";
  ASSERT_EQ(std::system(("pdftotext -layout " + pdf.string() + " " + text.string()).c_str()), 0);
  for (const char* words : {"squat octahedron, stop 1", "reading, mm", "moving range, mm", "upper limit", "lower limit",
                            "center", "tolerance 16.050", "tolerance 15.950"})
    EXPECT_NE(slurp(text).find(words), std::string::npos) << words;
  const std::string before = slurp(pdf);
  ASSERT_EQ(run_program_with("history " + batch + " --chart " + folder.string()).exit_code, 0);
  EXPECT_EQ(slurp(pdf), before) << "equal readings give equal files";
  s.write("file", "");
  EXPECT_EQ(run_program_with("history " + batch + " --chart " + (s.path / "file").string()).exit_code, 3);
}

// Room for a machine that is busy with other tests: measured alone, both take well under a second each.
TEST(History, AHundredThousandReadingsAreQuick) {
  const Scratch s("history");
  const std::string batch = small_batch(s);
  const std::string csv = s.write("r.csv", readings_of(100'000));
  const auto seconds_of = [&](const std::string& arguments) {
    const auto start = std::chrono::steady_clock::now();
    EXPECT_EQ(run_program_with(arguments).exit_code, 0) << arguments;
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  };
  const double record = seconds_of("record " + batch + " --setup 2 --csv " + csv);
  const double history = seconds_of("history " + batch);
  RecordProperty("record_seconds", std::to_string(record));
  RecordProperty("history_seconds", std::to_string(history));
  EXPECT_LT(record, 20);
  EXPECT_LT(history, 10);
}

}  // namespace
}  // namespace stickwright
