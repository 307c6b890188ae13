// other_shop.h - the example batch in a shop that is changed a little, as files of a test's own.
#pragma once
#include <gtest/gtest.h>

#include <regex>
#include <string>
#include <utility>
#include <vector>

#include "support/scratch.h"

namespace stickwright {

// Pattern, and what it is replaced with.
using Changes = std::vector<std::pair<std::string, std::string>>;

struct OtherShop {
  Scratch scratch{"other_shop"};
  std::string batch_file;

  // Every pattern must be found in the shop file; it is replaced wherever it stands.
  explicit OtherShop(const Changes& changes) {
    const std::filesystem::path examples = STICKWRIGHT_SOURCE "/examples/wrenfield";
    for (const char* file : {"batch.toml", "star.toml", "second.toml"})
      std::filesystem::copy(examples / file, scratch.path / file);
    std::string shop = slurp(examples / "shop.toml");
    for (const auto& [pattern, with] : changes) {
      EXPECT_TRUE(std::regex_search(shop, std::regex(pattern))) << pattern;
      shop = std::regex_replace(shop, std::regex(pattern), with);
    }
    scratch.write("shop.toml", shop);
    batch_file = (scratch.path / "batch.toml").string();
  }
};

// Says only what a shop file must say: no cradle, air, square, and nothing known of the saw.
inline OtherShop bare_shop() {
  Changes changes;
  for (const char* section : {"\\[\\[cradle\\]\\]", "\\[air\\]", "\\[known\\]", "\\[square\\]"})
    changes.push_back({std::string("\n") + section + "\n(?:[^\\[\n][^\n]*\n|\n)*", "\n"});
  changes.push_back(
      {"\n(plate|run_out|turns_per_minute|feed|tilt_lever|tilt_leaf_at|base_material|stop_material) =[^\n]*", ""});
  return OtherShop(changes);
}

}  // namespace stickwright
