#include "text/toml_node.h"

#include <fmt/core.h>
#include <toml++/toml.h>

#include <algorithm>
#include <optional>

#include "text/utf8.h"

// The library as a shared object only: its header-only form stops the program on some broken files.
static_assert(TOML_HEADER_ONLY == 0);

namespace stickwright {
namespace {

Place place_of(const toml::source_position& at) {
  return {static_cast<int>(at.line), static_cast<int>(at.column)};
}

Place place_of(const toml::source_region& region) {
  return place_of(region.begin);
}

TomlNode converted(const toml::node& node, const std::string& name);

TomlNode converted_table(const toml::table& table, const std::string& name) {
  TomlNode result;
  result.name = name;
  for (const auto& [key, value] : table) {
    const std::string label = value.is_array() ? fmt::format("[[{}]]", key.str()) : fmt::format("[{}]", key.str());
    result.entries.push_back({std::string(key.str()), place_of(key.source()), converted(value, label)});
  }
  std::sort(result.entries.begin(), result.entries.end(),
            [](const TomlEntry& a, const TomlEntry& b) { return a.at < b.at; });
  return result;
}

TomlNode converted_list(const toml::array& list, const std::string& name) {
  TomlNode result;
  result.kind = TomlNode::Kind::list;
  for (const toml::node& item : list)
    result.items.push_back(converted(item, fmt::format("{} number {}", name, result.items.size() + 1)));
  return result;
}

TomlNode converted_date(const toml::date& date) {
  TomlNode result;
  result.kind = TomlNode::Kind::date;
  result.date = std::chrono::year(date.year) / std::chrono::month(date.month) / std::chrono::day(date.day);
  return result;
}

TomlNode converted_clock(const toml::time& time) {
  TomlNode result;
  result.kind = TomlNode::Kind::clock;
  result.clock_seconds = time.hour * 3600 + time.minute * 60 + time.second;
  return result;
}

TomlNode converted_value(const toml::node& node) {
  TomlNode result;
  result.kind = TomlNode::Kind::other;
  if (const auto* text = node.as_string()) result.kind = TomlNode::Kind::text, result.text = text->get();
  if (const auto* whole = node.as_integer()) result.kind = TomlNode::Kind::whole, result.whole = whole->get();
  if (const auto* real = node.as_floating_point()) result.kind = TomlNode::Kind::real, result.real = real->get();
  if (const auto* flag = node.as_boolean()) result.kind = TomlNode::Kind::flag, result.flag = flag->get();
  if (const auto* date = node.as_date()) return converted_date(date->get());
  if (const auto* time = node.as_time()) return converted_clock(time->get());
  return result;
}

TomlNode converted(const toml::node& node, const std::string& name) {
  TomlNode result;
  if (const toml::table* table = node.as_table())
    result = converted_table(*table, name);
  else if (const toml::array* list = node.as_array())
    result = converted_list(*list, name);
  else
    result = converted_value(node);
  result.at = place_of(node.source());
  return result;
}

std::string explained(std::string_view description) {
  const bool twice = description.find("cannot redefine") != std::string_view::npos;
  return fmt::format("this is not TOML: {}{}", description,
                     twice ? "; it is written twice, or once in [ ] and once in [[ ]]" : "");
}

}  // namespace

const TomlEntry* TomlNode::entry(std::string_view key) const {
  const auto hit = std::find_if(entries.begin(), entries.end(), [&](const TomlEntry& e) { return e.key == key; });
  return hit == entries.end() ? nullptr : &*hit;
}

Result<TomlNode> parse_toml_node(const Source& source, std::string_view text) {
  if (const auto at = first_not_utf8(text)) {
    Problem problem =
        problem_at(source, *at, "bad_toml", "this is not UTF-8 text; save the file with the encoding UTF-8");
    problem.excerpt.clear();  // the line cannot be shown as it is
    return problem;
  }
  try {
    const toml::table table = toml::parse(text, source.file);
    return converted(table, "the file");
  } catch (const toml::parse_error& error) {
    return problem_at(source, place_of(error.source()), "bad_toml", explained(error.description()));
  }
}

}  // namespace stickwright
