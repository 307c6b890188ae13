// docs/api.yaml against the routes that there are: the page's contract must not promise what is not there, nor hide
// what is.
#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <string>

#include "serve/routes.h"

namespace stickwright {
namespace {

using Calls = std::set<std::string>;  // "GET /api/jobs/{id}"

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

// A path stands two blanks in, its methods four.
Calls calls_in_file(const std::string& file) {
  std::ifstream in(file);
  Calls out;
  std::string line, path;
  while (std::getline(in, line)) {
    const std::size_t blanks = line.find_first_not_of(' ');
    if (blanks == std::string::npos || !line.ends_with(':')) continue;
    const std::string word = line.substr(blanks, line.size() - blanks - 1);
    if (blanks == 2) path = word.starts_with("/api/") ? word : "";
    const bool is_method = Calls{"get", "post", "delete", "put", "patch"}.contains(word);
    if (blanks == 4 && !path.empty() && is_method) {
      EXPECT_TRUE(out.insert(upper(word) + " " + path).second) << "twice: " << word << " " << path;
    }
  }
  return out;
}

Calls calls_served() {
  Calls out;
  for (const Route& route : all_routes())
    EXPECT_TRUE(out.insert(route.method + " " + route.path).second) << "twice: " << route.method << " " << route.path;
  return out;
}

TEST(ApiFile, SaysWhatIsServedAndNothingElse) {
  const Calls said = calls_in_file(STICKWRIGHT_SOURCE "/docs/api.yaml"), served = calls_served();
  ASSERT_FALSE(said.empty());
  for (const std::string& call : served) EXPECT_TRUE(said.contains(call)) << "not in docs/api.yaml: " << call;
  for (const std::string& call : said) EXPECT_TRUE(served.contains(call)) << "no route: " << call;
}

}  // namespace
}  // namespace stickwright
