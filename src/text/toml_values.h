// toml_values.h - how a table's values and lists are read, whatever their kind. Private to this room.
//
// All alike: ask for the key, read by the kind (toml_kinds.h, toml_measures.h), note what is wrong.
#pragma once
#include <fmt/core.h>

#include <string>
#include <string_view>
#include <vector>

#include "text/toml_kinds.h"
#include "text/toml_node.h"
#include "text/toml_reader.h"

namespace stickwright {

template <class T, class Kind>
T Table::value(std::string_view key, const Kind& kind, const T* fallback) const {
  const TomlNode* node = ask(key, !fallback, kind.expected());
  if (!node) return fallback ? *fallback : T{};
  Result<T> read = kind.read(*node);
  if (read) return read.take();
  report(node->at, read.problem().code, fmt::format("{}: {}", key, read.problem().say));
  return T{};
}

template <class T, class Kind>
std::vector<T> Table::elements(const TomlNode& node, std::string_view key, const Kind& kind) const {
  std::vector<T> result;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    Result<T> read = kind.read(node.items[i]);
    if (!read) {
      report(node.items[i].at, read.problem().code, fmt::format("{}, element {}: {}", key, i + 1, read.problem().say));
      return {};
    }
    result.push_back(read.take());
  }
  return result;
}

template <class T, class Kind>
std::vector<T> Table::list(std::string_view key, const Kind& kind, bool required) const {
  const std::string expected = "a list in brackets; each element is " + kind.expected();
  const TomlNode* node = ask(key, required, expected);
  if (!node) return {};
  if (node->kind != TomlNode::Kind::list) {
    report(node->at, "wrong_type", fmt::format("{}: expected {}; found {}", key, expected, found(*node)));
    return {};
  }
  if (required && node->items.empty())
    report(node->at, "bad_count", fmt::format("{}: expected at least one element, found an empty list", key));
  return elements<T>(*node, key, kind);
}

template <class T, class Kind>
std::vector<T> Table::value_or_list(std::string_view key, const Kind& kind) const {
  const TomlNode* node = ask(key, true, kind.expected() + ", or a list of them in brackets");
  if (!node) return {};
  if (node->kind == TomlNode::Kind::list) return list<T>(key, kind, true);
  return {value<T>(key, kind, nullptr)};
}

}  // namespace stickwright
