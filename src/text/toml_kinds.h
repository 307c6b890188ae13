// toml_kinds.h - what a value of each kind looks like, and how it is read. Private to this room.
//
// Every kind has expected() ("a whole number from 1 to 100") and read(node), whose problem says what was expected and
// what was found; its place is filled in by the table.
#pragma once
#include <chrono>
#include <string>
#include <vector>

#include "exact/vec.h"
#include "quantity/quantity.h"
#include "text/toml_node.h"
#include "text/toml_reader.h"

namespace stickwright {

// "the number 16", "the text "abc"", "a list"
std::string found(const TomlNode& node);

struct TextKind {
  std::string expected() const;
  Result<std::string> read(const TomlNode& node) const;
};
struct WholeKind {
  WholeRange range;
  std::string expected() const;
  Result<std::int64_t> read(const TomlNode& node) const;
};
struct FlagKind {
  std::string expected() const;
  Result<bool> read(const TomlNode& node) const;
};
struct LengthKind {
  LengthRange range;
  std::string expected() const;
  Result<Mm> read(const TomlNode& node) const;
};
struct NominalKind {
  NominalRange range;
  std::string expected() const;
  Result<Nm> read(const TomlNode& node) const;
};
struct TimeKind {
  TimeRange range;
  std::string expected() const;
  Result<Seconds> read(const TomlNode& node) const;
};
struct ShareKind {
  ShareRange range;
  std::string expected() const;
  Result<double> read(const TomlNode& node) const;
};
struct NumberKind {
  NumberRange range;
  std::string expected() const;
  Result<double> read(const TomlNode& node) const;
};
struct ChoiceKind {
  std::vector<std::string> words;
  std::string expected() const;
  Result<std::size_t> read(const TomlNode& node) const;
};
struct DateKind {
  std::string expected() const;
  Result<std::chrono::year_month_day> read(const TomlNode& node) const;
};
struct ClockKind {
  std::string expected() const;
  Result<Seconds> read(const TomlNode& node) const;
};
struct TripleKind {
  std::string expected() const;
  Result<Vec> read(const TomlNode& node) const;
};

}  // namespace stickwright
