// given.h - reads the JSON object that a call brings, and keeps the first thing wrong with it.
#pragma once
#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "exact/vec.h"
#include "quantity/result.h"

namespace stickwright {

// A view of one object of a call. A key that is missing or null is not there. Getters note what is wrong and return a
// value all the same, so that nothing needs checking in between; ask `problem` at the end.
//   errors   missing_key, wrong_type, out_of_range, unknown_key; `where` is the path, "blocks[1].turn"
class Given {
 public:
  Given(const nlohmann::json& object, std::optional<Problem>& problem, std::string path = "");

  bool has(const std::string& key) const;
  std::string text(const std::string& key) const;
  std::optional<std::string> text_if(const std::string& key) const;
  std::int64_t whole(const std::string& key, std::int64_t least, std::int64_t most) const;
  std::optional<std::int64_t> whole_if(const std::string& key, std::int64_t least, std::int64_t most) const;
  bool flag_or(const std::string& key, bool fallback) const;
  std::vector<std::string> texts_or_none(const std::string& key) const;
  std::optional<Vec> triple_if(const std::string& key) const;
  std::optional<Given> object_if(const std::string& key) const;
  std::vector<Given> objects(const std::string& key) const;  // at least one

  // Notes a key that is none of these.
  void only(const std::vector<std::string_view>& keys) const;
  void report(const std::string& key, std::string code, std::string say) const;
  std::string place(const std::string& key) const;

 private:
  const nlohmann::json* find(const std::string& key) const;
  const nlohmann::json* need(const std::string& key) const;
  void expected(const std::string& key, const std::string& what) const;

  const nlohmann::json* object_;
  std::optional<Problem>* problem_;
  std::string path_;
};

}  // namespace stickwright
