// One getter of Table for each kind of value.
#include "text/toml_measures.h"
#include "text/toml_values.h"

namespace stickwright {

std::string Table::text(std::string_view key) const {
  return value<std::string>(key, TextKind{}, nullptr);
}
std::string Table::text_or(std::string_view key, std::string fallback) const {
  return value<std::string>(key, TextKind{}, &fallback);
}
std::int64_t Table::integer(std::string_view key, WholeRange range) const {
  return value<std::int64_t>(key, WholeKind{range}, nullptr);
}
std::int64_t Table::integer_or(std::string_view key, WholeRange range, std::int64_t fallback) const {
  return value<std::int64_t>(key, WholeKind{range}, &fallback);
}
bool Table::flag(std::string_view key) const {
  return value<bool>(key, FlagKind{}, nullptr);
}
bool Table::flag_or(std::string_view key, bool fallback) const {
  return value<bool>(key, FlagKind{}, &fallback);
}
Mm Table::length(std::string_view key, LengthRange range) const {
  return value<Mm>(key, LengthKind{range}, nullptr);
}
Mm Table::length_or(std::string_view key, LengthRange range, Mm fallback) const {
  return value<Mm>(key, LengthKind{range}, &fallback);
}
Nm Table::nominal(std::string_view key, NominalRange range) const {
  return value<Nm>(key, NominalKind{range}, nullptr);
}
Nm Table::nominal_or(std::string_view key, NominalRange range, Nm fallback) const {
  return value<Nm>(key, NominalKind{range}, &fallback);
}
Seconds Table::duration(std::string_view key, TimeRange range) const {
  return value<Seconds>(key, TimeKind{range}, nullptr);
}
Seconds Table::duration_or(std::string_view key, TimeRange range, Seconds fallback) const {
  return value<Seconds>(key, TimeKind{range}, &fallback);
}
double Table::share(std::string_view key, ShareRange range) const {
  return value<double>(key, ShareKind{range}, nullptr);
}
double Table::share_or(std::string_view key, ShareRange range, double fallback) const {
  return value<double>(key, ShareKind{range}, &fallback);
}
std::size_t Table::choice(std::string_view key, std::initializer_list<std::string_view> words) const {
  return value<std::size_t>(key, ChoiceKind{{words.begin(), words.end()}}, nullptr);
}
std::size_t Table::choice_or(std::string_view key, std::initializer_list<std::string_view> words,
                             std::size_t fallback) const {
  return value<std::size_t>(key, ChoiceKind{{words.begin(), words.end()}}, &fallback);
}
std::chrono::year_month_day Table::date(std::string_view key) const {
  return value<std::chrono::year_month_day>(key, DateKind{}, nullptr);
}
std::optional<std::chrono::year_month_day> Table::date_if(std::string_view key) const {
  if (!has(key)) return {};
  return date(key);
}
Seconds Table::clock(std::string_view key) const {
  return value<Seconds>(key, ClockKind{}, nullptr);
}
Vec Table::triple(std::string_view key) const {
  return value<Vec>(key, TripleKind{}, nullptr);
}
Vec Table::triple_or(std::string_view key, Vec fallback) const {
  return value<Vec>(key, TripleKind{}, &fallback);
}

double Table::number(std::string_view key, NumberRange range) const {
  return value<double>(key, NumberKind{range}, nullptr);
}
Angle Table::angle(std::string_view key, AngleRange range) const {
  return value<Angle>(key, MeasureKind<Angle>{range}, nullptr);
}
Celsius Table::temperature(std::string_view key, TemperatureRange range) const {
  return value<Celsius>(key, MeasureKind<Celsius>{range}, nullptr);
}
Kelvin Table::temperature_difference(std::string_view key, TemperatureDifferenceRange range) const {
  return value<Kelvin>(key, MeasureKind<Kelvin>{range}, nullptr);
}
Newton Table::force(std::string_view key, ForceRange range) const {
  return value<Newton>(key, MeasureKind<Newton>{range}, nullptr);
}
MmPerSecond Table::speed(std::string_view key, SpeedRange range) const {
  return value<MmPerSecond>(key, MeasureKind<MmPerSecond>{range}, nullptr);
}
Megapascal Table::modulus(std::string_view key, ModulusRange range) const {
  return value<Megapascal>(key, MeasureKind<Megapascal>{range}, nullptr);
}
PerKelvin Table::expansion(std::string_view key, ExpansionRange range) const {
  return value<PerKelvin>(key, MeasureKind<PerKelvin>{range}, nullptr);
}

std::vector<std::string> Table::texts(std::string_view key) const {
  return list<std::string>(key, TextKind{}, true);
}
std::vector<std::string> Table::texts_or_none(std::string_view key) const {
  return list<std::string>(key, TextKind{}, false);
}
std::vector<std::string> Table::text_or_texts(std::string_view key) const {
  const TomlNode* node = ask(key);
  if (node && node->kind == TomlNode::Kind::text) return {text(key)};
  return texts(key);
}
std::vector<double> Table::share_or_shares(std::string_view key, ShareRange range) const {
  return value_or_list<double>(key, ShareKind{range});
}
std::vector<Celsius> Table::temperature_or_temperatures(std::string_view key, TemperatureRange range) const {
  return value_or_list<Celsius>(key, MeasureKind<Celsius>{range});
}
std::vector<std::int64_t> Table::integers(std::string_view key, WholeRange range) const {
  return list<std::int64_t>(key, WholeKind{range}, true);
}
std::vector<Mm> Table::lengths(std::string_view key, LengthRange range) const {
  return list<Mm>(key, LengthKind{range}, true);
}
std::vector<Mm> Table::lengths_or_none(std::string_view key, LengthRange range) const {
  return list<Mm>(key, LengthKind{range}, false);
}
std::vector<Nm> Table::nominals(std::string_view key, NominalRange range) const {
  return list<Nm>(key, NominalKind{range}, true);
}
std::vector<Nm> Table::nominals_or_none(std::string_view key, NominalRange range) const {
  return list<Nm>(key, NominalKind{range}, false);
}
std::vector<std::chrono::year_month_day> Table::dates_or_none(std::string_view key) const {
  return list<std::chrono::year_month_day>(key, DateKind{}, false);
}
std::vector<Vec> Table::triples(std::string_view key) const {
  return list<Vec>(key, TripleKind{}, true);
}
std::vector<Vec> Table::triples_or_none(std::string_view key) const {
  return list<Vec>(key, TripleKind{}, false);
}

std::vector<std::vector<Vec>> Table::triple_lists(std::string_view key) const {
  std::vector<std::vector<Vec>> result;
  const TomlNode* node = ask(key, true, "a list of lists of triples such as [[[4, 2, 0]], [[2, 4, 0], [0, 4, 2]]]");
  if (!node) return result;
  for (const TomlNode& item : node->items) {
    result.push_back(elements<Vec>(item, key, TripleKind{}));
    if (item.items.empty())
      report(item.at, "wrong_type",
             fmt::format("{}: expected a list of triples such as [[4, 2, 0]], found {}", key, found(item)));
  }
  if (result.empty())
    report(node->at, "wrong_type", fmt::format("{}: expected a list of lists of triples, found {}", key, found(*node)));
  return result;
}

}  // namespace stickwright
