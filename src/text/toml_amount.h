// toml_amount.h - a number with its unit, written in quotes. Private to this room.
#pragma once
#include <string>
#include <string_view>

#include "text/toml_kinds.h"
#include "text/toml_node.h"

namespace stickwright {

// "expected ..., found ..."; its place is filled in by the table.
Problem wrong(std::string code, const std::string& expected, const TomlNode& node, const std::string& hint = "");

// What to write instead of a bare number.
std::string with_unit(const TomlNode& node, std::string_view unit);

// A text that is read further by `parse`, with `unit` as the likely one where a bare number was written.
template <class T, class Parse>
Result<T> read_amount(const TomlNode& node, const std::string& expected, std::string_view unit, Parse parse) {
  if (node.kind == TomlNode::Kind::whole || node.kind == TomlNode::Kind::real)
    return wrong("wrong_type", expected, node, with_unit(node, unit));
  if (node.kind != TomlNode::Kind::text) return wrong("wrong_type", expected, node);
  Result<T> read = parse(node.text);
  if (!read) return wrong(read.problem().code, expected, node);
  return read;
}

template <class T, class Range>
Result<T> in_range(Result<T> read, const Range& range, const std::string& expected, const TomlNode& node) {
  if (read && (read.value() < range.least || range.most < read.value())) return wrong("out_of_range", expected, node);
  return read;
}

}  // namespace stickwright
