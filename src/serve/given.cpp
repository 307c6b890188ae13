#include "serve/given.h"

#include <fmt/core.h>

#include <algorithm>

namespace stickwright {
namespace {

const nlohmann::json kNothing = nlohmann::json::object();
constexpr std::size_t kLongestText = 200;   // bytes, as in a file
constexpr std::size_t kLongestList = 1000;  // elements

}  // namespace

Given::Given(const nlohmann::json& object, std::optional<Problem>& problem, std::string path)
    : object_(object.is_object() ? &object : &kNothing), problem_(&problem), path_(std::move(path)) {
  if (!object.is_object()) report("", "wrong_type", "expected an object with keys and values");
}

std::string Given::place(const std::string& key) const {
  return key.empty() ? path_ : path_.empty() ? key : path_ + "." + key;
}

void Given::report(const std::string& key, std::string code, std::string say) const {
  if (!*problem_) *problem_ = Problem{std::move(code), place(key), std::move(say), ""};
}

void Given::expected(const std::string& key, const std::string& what) const {
  report(key, "wrong_type", fmt::format("{}: expected {}", key, what));
}

const nlohmann::json* Given::find(const std::string& key) const {
  const auto at = object_->find(key);
  return at == object_->end() || at->is_null() ? nullptr : &*at;
}

const nlohmann::json* Given::need(const std::string& key) const {
  const nlohmann::json* value = find(key);
  if (!value) report(key, "missing_key", fmt::format("the key \"{}\" is needed", key));
  return value;
}

bool Given::has(const std::string& key) const {
  return find(key) != nullptr;
}

std::optional<std::string> Given::text_if(const std::string& key) const {
  const nlohmann::json* value = find(key);
  if (!value) return {};
  if (!value->is_string()) return expected(key, "a text"), std::nullopt;
  std::string text = value->get<std::string>();
  const bool plain = std::none_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) == 0x7f;
  });
  if (text.empty() || text.size() > kLongestText || !plain)
    return report(key, "bad_text", fmt::format("{}: expected a text of 1 to {} bytes in one line", key, kLongestText)),
           std::nullopt;
  return text;
}

std::string Given::text(const std::string& key) const {
  return need(key) ? text_if(key).value_or("") : "";
}

std::optional<std::int64_t> Given::whole_if(const std::string& key, std::int64_t least, std::int64_t most) const {
  const nlohmann::json* value = find(key);
  if (!value) return {};
  if (!value->is_number_integer()) return expected(key, "a whole number"), std::nullopt;
  const bool huge = value->is_number_unsigned() && value->get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX);
  const std::int64_t number = huge ? INT64_MAX : value->get<std::int64_t>();
  if (number < least || number > most)
    return report(key, "out_of_range",
                  fmt::format("{}: expected a whole number from {} to {}, found {}", key, least, most, value->dump())),
           std::nullopt;
  return number;
}

std::int64_t Given::whole(const std::string& key, std::int64_t least, std::int64_t most) const {
  return need(key) ? whole_if(key, least, most).value_or(least) : least;
}

bool Given::flag_or(const std::string& key, bool fallback) const {
  const nlohmann::json* value = find(key);
  if (!value) return fallback;
  if (!value->is_boolean()) return expected(key, "true or false"), fallback;
  return value->get<bool>();
}

std::vector<std::string> Given::texts_or_none(const std::string& key) const {
  std::vector<std::string> out;
  const nlohmann::json* value = find(key);
  if (!value) return out;
  if (!value->is_array() || value->size() > kLongestList) return expected(key, "a list of texts"), out;
  for (const auto& item : *value) {
    if (!item.is_string()) return expected(key, "a list of texts"), out;
    out.push_back(item.get<std::string>());
  }
  return out;
}

std::optional<Vec> Given::triple_if(const std::string& key) const {
  const nlohmann::json* value = find(key);
  if (!value) return {};
  const bool triple =
      value->is_array() && value->size() == 3 && std::all_of(value->begin(), value->end(), [](const auto& v) {
        return v.is_number_integer() && v.template get<double>() <= kMaxCoord && v.template get<double>() >= -kMaxCoord;
      });
  if (!triple) return expected(key, fmt::format("three whole numbers, none beyond {}", kMaxCoord)), std::nullopt;
  return Vec{(*value)[0].get<std::int64_t>(), (*value)[1].get<std::int64_t>(), (*value)[2].get<std::int64_t>()};
}

std::optional<Given> Given::object_if(const std::string& key) const {
  const nlohmann::json* value = find(key);
  return value ? std::optional(Given(*value, *problem_, place(key))) : std::nullopt;
}

std::vector<Given> Given::objects(const std::string& key) const {
  std::vector<Given> out;
  const nlohmann::json* value = need(key);
  if (!value) return out;
  if (!value->is_array() || value->empty() || value->size() > kLongestList)
    return expected(key, "a list of at least one object"), out;
  for (std::size_t i = 0; i < value->size(); ++i)
    out.emplace_back((*value)[i], *problem_, fmt::format("{}[{}]", place(key), i));
  return out;
}

void Given::only(const std::vector<std::string_view>& keys) const {
  for (const auto& [key, value] : object_->items())
    if (std::find(keys.begin(), keys.end(), key) == keys.end())
      report(key, "unknown_key", fmt::format("there is no key \"{}\" here", key));
}

}  // namespace stickwright
