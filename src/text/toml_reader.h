// toml_reader.h - reads the TOML files that a maker writes, and finds the first thing wrong with them.
//
// A loader reads all its keys in a row and asks once, at the end, whether anything was wrong:
//
//   auto file = read_toml(path);
//   if (!file) return file.problem();
//   Document document = file.take();
//   Table root = document.root();
//   root.format(1);
//   Shop shop;
//   shop.name = root.text("name");
//   Table blade = root.table("blade");
//   shop.kerf = blade.length("kerf", {Mm{0.5}, Mm{10}});
//   shop.teeth = blade.integer_or("teeth", {8, 200}, 40);
//   return document.finish(std::move(shop));
//
// A getter that finds something wrong notes it and returns a value of its type, so nothing needs checking in between.
// finish() then gives the problem that stands first in the file: a wrong value, a key that no getter asked for, a key
// that is missing (placed at the head of its table; not told when the table has an unknown key, which is most likely
// the same key mistyped).
#pragma once
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "exact/vec.h"
#include "quantity/physical.h"
#include "quantity/quantity.h"
#include "quantity/result.h"
#include "text/source.h"

namespace stickwright {

struct TomlReading;  // private to this room
struct TomlNode;     // private: text/toml_node.h

// Both ends belong to the range.
struct LengthRange {
  Mm least, most;
};
struct NominalRange {
  Nm least, most;
};
struct TimeRange {
  Seconds least, most;
};
struct WholeRange {
  std::int64_t least = 0, most = 0;
};
struct ShareRange {
  double least = 0, most = 1;
};
struct NumberRange {
  double least = 0, most = 0;
};
template <class T>
struct RangeOf {
  T least, most;
};
using AngleRange = RangeOf<Angle>;
using TemperatureRange = RangeOf<Celsius>;
using TemperatureDifferenceRange = RangeOf<Kelvin>;
using ForceRange = RangeOf<Newton>;
using SpeedRange = RangeOf<MmPerSecond>;
using ModulusRange = RangeOf<Megapascal>;
using ExpansionRange = RangeOf<PerKelvin>;

inline constexpr std::size_t kMaxTomlBytes = 4'000'000;

// A view of one table of a document; cheap to copy, keeps the document alive.
// An absent table (table_if found none, or table() has noted the lack of one) answers every getter with the fallback or
// with T{}, and notes nothing.
//
// Getters: NAME(key, ...) notes missing_key when the key is not there; NAME_or(key, ..., fallback) does not.
//   errors   missing_key; wrong_type (a number where a text is expected, ...); out_of_range; and by kind:
//            bad_text (empty, more than 200 bytes, more than one line), bad_length, not_whole_nm, bad_duration,
//            bad_share, bad_angle, bad_temperature, bad_force, bad_speed, bad_modulus, bad_expansion, bad_choice,
//            bad_date, bad_clock, bad_count (too many or too few elements)
class Table {
 public:
  bool present() const { return node_ != nullptr; }
  bool has(std::string_view key) const;  // counts as asking for the key

  // Where the table, a key's value, one element of a key's list, or the key itself stands. The table's own place when
  // the key is not there.
  Place place() const;
  Place place(std::string_view key) const;
  Place place(std::string_view key, std::size_t index) const;
  Place key_place(std::string_view key) const;

  // Notes a problem that the loader found in a value; it competes with the others for the first place in the file.
  void report(std::string_view key, std::string code, std::string say) const;
  void report(std::string_view key, std::size_t index, std::string code, std::string say) const;
  void report(Place at, std::string code, std::string say) const;
  // The same as a value, for problems found after finish().
  Problem problem_at(std::string_view key, std::string code, std::string say) const;
  Problem problem_at(std::string_view key, std::size_t index, std::string code, std::string say) const;

  // Notes bad_format unless the table says `format = newest`.
  void format(std::int64_t newest) const;

  std::string text(std::string_view key) const;
  std::string text_or(std::string_view key, std::string fallback) const;
  std::int64_t integer(std::string_view key, WholeRange range) const;
  std::int64_t integer_or(std::string_view key, WholeRange range, std::int64_t fallback) const;
  bool flag(std::string_view key) const;
  bool flag_or(std::string_view key, bool fallback) const;
  Mm length(std::string_view key, LengthRange range) const;
  Mm length_or(std::string_view key, LengthRange range, Mm fallback) const;
  Nm nominal(std::string_view key, NominalRange range) const;
  Nm nominal_or(std::string_view key, NominalRange range, Nm fallback) const;
  Seconds duration(std::string_view key, TimeRange range) const;
  Seconds duration_or(std::string_view key, TimeRange range, Seconds fallback) const;
  double share(std::string_view key, ShareRange range) const;
  double share_or(std::string_view key, ShareRange range, double fallback) const;
  // With or without a decimal point, without quotes.
  double number(std::string_view key, NumberRange range) const;
  Angle angle(std::string_view key, AngleRange range) const;
  Celsius temperature(std::string_view key, TemperatureRange range) const;
  Kelvin temperature_difference(std::string_view key, TemperatureDifferenceRange range) const;
  Newton force(std::string_view key, ForceRange range) const;
  MmPerSecond speed(std::string_view key, SpeedRange range) const;
  Megapascal modulus(std::string_view key, ModulusRange range) const;
  PerKelvin expansion(std::string_view key, ExpansionRange range) const;
  // One of the words; returns its index.
  std::size_t choice(std::string_view key, std::initializer_list<std::string_view> words) const;
  std::size_t choice_or(std::string_view key, std::initializer_list<std::string_view> words,
                        std::size_t fallback) const;
  // 2027-03-09, with or without quotes.
  std::chrono::year_month_day date(std::string_view key) const;
  std::optional<std::chrono::year_month_day> date_if(std::string_view key) const;
  // "18:30", or 18:30:00 without quotes; whole minutes, as seconds since midnight, up to "24:00".
  Seconds clock(std::string_view key) const;

  // Lists. The *_or_none forms give an empty list when the key is not there; the others ask for at least one element.
  std::vector<std::string> texts(std::string_view key) const;
  std::vector<std::string> texts_or_none(std::string_view key) const;
  // A single text counts as a list of one.
  std::vector<std::string> text_or_texts(std::string_view key) const;
  // The same for a single share or temperature.
  std::vector<double> share_or_shares(std::string_view key, ShareRange range) const;
  std::vector<Celsius> temperature_or_temperatures(std::string_view key, TemperatureRange range) const;
  std::vector<std::int64_t> integers(std::string_view key, WholeRange range) const;
  std::vector<Mm> lengths(std::string_view key, LengthRange range) const;
  std::vector<Mm> lengths_or_none(std::string_view key, LengthRange range) const;
  std::vector<Nm> nominals(std::string_view key, NominalRange range) const;
  std::vector<Nm> nominals_or_none(std::string_view key, NominalRange range) const;
  std::vector<std::chrono::year_month_day> dates_or_none(std::string_view key) const;
  // [[4, 2, 0], [2, 4, 0]], each |coordinate| <= kMaxCoord.
  std::vector<Vec> triples(std::string_view key) const;
  std::vector<Vec> triples_or_none(std::string_view key) const;
  // [ [[4, 2, 0]], [[2, 4, 0], [0, 4, 2]] ]: a list of such lists, none of them empty.
  std::vector<std::vector<Vec>> triple_lists(std::string_view key) const;
  // [4, 2, 0]
  Vec triple(std::string_view key) const;
  Vec triple_or(std::string_view key, Vec fallback) const;

  Table table(std::string_view key) const;
  Table table_if(std::string_view key) const;
  std::vector<Table> tables(std::string_view key) const;          // [[key]], at least one
  std::vector<Table> tables_or_none(std::string_view key) const;  // [[key]]
  // All keys in file order, for tables whose keys are the maker's own names; every key counts as asked for.
  std::vector<std::string> keys() const;
  // Which of the keys is there: exactly one has to be. Notes missing_key or too_many_keys.   returns its index, or 0
  std::size_t exactly_one_of(std::initializer_list<std::string_view> names) const;

 private:
  friend class Document;
  Table(std::shared_ptr<TomlReading> reading, const TomlNode* node) : reading_(std::move(reading)), node_(node) {}
  const TomlNode* ask(std::string_view key) const;
  const TomlNode* ask(std::string_view key, bool required, const std::string& expected) const;
  template <class T, class Kind>
  T value(std::string_view key, const Kind& kind, const T* fallback) const;
  template <class T, class Kind>
  std::vector<T> list(std::string_view key, const Kind& kind, bool required) const;
  template <class T, class Kind>
  std::vector<T> value_or_list(std::string_view key, const Kind& kind) const;
  template <class T, class Kind>
  std::vector<T> elements(const TomlNode& node, std::string_view key, const Kind& kind) const;
  std::vector<Table> tables(std::string_view key, bool required) const;

  std::shared_ptr<TomlReading> reading_;
  const TomlNode* node_ = nullptr;
};

class Document {
 public:
  Table root() const;
  const std::string& file() const;
  // Kept by what was read, so that a problem found much later can still show the line.
  std::shared_ptr<const Source> source() const;

  // True while nothing was found wrong or missing in what was read so far: for work that needs sound values before all
  // keys are read.
  bool sound() const;

  // The problem that stands first in the file, if there is any. Ask when everything is read: what no getter has asked
  // for is an unknown key.
  std::optional<Problem> finish() const;
  template <class T>
  Result<T> finish(T value) const {
    if (auto problem = finish()) return *std::move(problem);
    return value;
  }

 private:
  friend Result<Document> parse_toml(std::string_view text, std::string file);
  explicit Document(std::shared_ptr<TomlReading> reading) : reading_(std::move(reading)) {}
  std::shared_ptr<TomlReading> reading_;
};

//   errors   no_file (not there, not readable, not a file); bad_toml (larger than kMaxTomlBytes, not UTF-8, broken
//            syntax, a key given twice), with the place and the line
Result<Document> read_toml(const std::filesystem::path& path);
// The same from memory; `file` is the name that problems carry.
Result<Document> parse_toml(std::string_view text, std::string file);

}  // namespace stickwright
