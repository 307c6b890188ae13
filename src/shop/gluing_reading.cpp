#include "shop/gluing_reading.h"

#include <fmt/core.h>

#include <vector>

#include "shop/reading.h"

namespace stickwright {
namespace {

constexpr LengthRange kSmallLength{Mm{0}, Mm{1}};
constexpr LengthRange kMostEased{Mm{0}, Mm{3}};
constexpr NumberRange kFinishDays{0.01, 3650};
constexpr std::size_t kMonths = 12;

void check_order(const Table& t, std::string_view key, const std::optional<Mm>& low, const std::optional<Mm>& high,
                 std::string_view high_key) {
  if (low && high && *low > *high)
    t.report(key, "bad_play",
             fmt::format("{}: expected at most {}, {} mm, found {} mm", key, high_key, high->v, low->v));
}

void check_window(const Table& t, const FitAsked& fit) {
  check_order(t, "least_play", fit.least_play, fit.play, "play");
  check_order(t, "play", fit.play, fit.most_play, "most_play");
  if (!fit.play) check_order(t, "least_play", fit.least_play, fit.most_play, "most_play");
}

// One value stands for every month. `values` is empty when the reader has noted something already.
template <class T>
std::array<T, kMonths> over_the_year(const Table& t, std::string_view key, const std::vector<T>& values) {
  std::array<T, kMonths> year{};
  if (!values.empty() && values.size() != 1 && values.size() != kMonths)
    t.report(
        key, "wrong_count",
        fmt::format("{}: expected one value, or a list of twelve, January to December; found {}", key, values.size()));
  for (std::size_t m = 0; m < kMonths && !values.empty(); ++m) year[m] = values[values.size() == kMonths ? m : 0];
  return year;
}

}  // namespace

GlueMeans read_glue(const Table& t) {
  GlueMeans glue;
  glue.line = if_there(t, "line", &Table::length, kSmallLength);
  glue.line_spread = if_there(t, "line_spread", &Table::length, kSmallLength);
  glue.slip = if_there(t, "slip", &Table::length, kSmallLength);
  glue.slip_in_jig = if_there(t, "slip_in_jig", &Table::length, kSmallLength);
  glue.at = t.place();
  return glue;
}

FitMeans read_fit_means(const Table& t) {
  FitMeans fit;
  fit.hand_gives = if_there(t, "hand_gives", &Table::length, kSmallLength);
  fit.eased = if_there(t, "eased", &Table::length, kMostEased);
  fit.at = t.place();
  return fit;
}

FitAsked read_fit_asked(const Document& document) {
  const Table t = document.root().table_if("fit");
  FitAsked fit;
  fit.play = if_there(t, "play", &Table::length, kSmallLength);
  fit.least_play = if_there(t, "least_play", &Table::length, kSmallLength);
  fit.most_play = if_there(t, "most_play", &Table::length, kSmallLength);
  fit.chance = if_there(t, "chance", &Table::share, ShareRange{50 / 100.0, 99.9 / 100});
  fit.samples = if_there(t, "samples", &Table::integer, WholeRange{1000, 10'000'000});
  fit.at = t.place();
  if (document.sound()) check_window(t, fit);  // a length that could not be read is no bound
  return fit;
}

std::optional<Customer> read_customer(const Table& t) {
  if (!t.present()) return {};
  Customer customer;
  customer.place = t.text_or("place", "");
  const auto temperatures =
      over_the_year(t, "temperature", t.temperature_or_temperatures("temperature", {Celsius{-1}, Celsius{60}}));
  const auto humidities = over_the_year(t, "humidity", t.share_or_shares("humidity", {0.05, 0.95}));
  for (std::size_t m = 0; m < kMonths; ++m) customer.air[m] = {temperatures[m], humidities[m]};
  customer.finish_days = if_there(t, "finish_days", &Table::number, kFinishDays);
  customer.at = t.place();
  return customer;
}

}  // namespace stickwright
