#include "packet/card_rows.h"

#include <algorithm>

#include "batch/wording.h"
#include "packet/stop_view.h"

namespace stickwright {
namespace {

// The test is measured across the face that this cut, from 0, makes.
bool measured_after(const TestPlan& t, std::size_t cut) {
  return std::max(t.test.face_a, t.test.face_b) == static_cast<int>(cut) + 1;
}

// A cut of the block itself, which may be what a test measures.
CardRow block_row(const SetUp& s, std::size_t k) {
  CardRow row{&s.program, k, static_cast<std::size_t>(s.program.cuts[k].stop), std::to_string(k + 1), {}, {}};
  for (std::size_t i = 0; i < s.tests.size() && !row.test; ++i)
    if (s.tests[i].test.extra.empty() && measured_after(s.tests[i], k))
      row.across_flats = s.tests[i].test.across_flats, row.test = i;
  return row;
}

std::vector<CardRow> test_piece_rows(const SetUp& s, const Program& stand_in, std::size_t test) {
  const TestPlan& t = s.tests[test];
  std::vector<CardRow> rows;
  for (auto k = static_cast<std::size_t>(t.test.after_cut); k < stand_in.cuts.size(); ++k) {
    rows.push_back({&stand_in, k, static_cast<std::size_t>(stand_in.cuts[k].stop), "T", {}, test});
    if (measured_after(t, k)) rows.back().across_flats = t.test.across_flats;
  }
  return rows;
}

}  // namespace

std::shared_ptr<const SetUpCard> card_of(const SetUp& s) {
  const auto card = std::make_shared<SetUpCard>();
  card->set_up = &s;
  for (const TestPlan& t : s.tests) card->stand_ins.push_back(test_program(s.program, t.test));
  for (std::size_t k = 0; k < s.stops.size(); ++k) card->rows.push_back({nullptr, 0, k, "", {}, {}});
  const auto stops = static_cast<std::ptrdiff_t>(s.stops.size());
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k) card->rows.push_back(block_row(s, k));
  for (std::size_t i = 0; i < s.tests.size(); ++i) {
    const std::vector<CardRow> rows = test_piece_rows(s, card->stand_ins[i], i);
    // A test piece of its own is sawn first; one that is a block cut further comes after the block's cuts.
    const bool first = s.tests[i].test.after_cut == 0;
    card->rows.insert(first ? card->rows.begin() + stops : card->rows.end(), rows.begin(), rows.end());
  }
  return card;
}

std::string row_in_words(const SetUp& s, const CardRow& r) {
  if (!r.program) return setting_in_words(s.stops[r.stop]);
  const std::string words = cut_in_words(*r.program, r.cut);
  return r.of_test_piece() ? "test piece: " + words : words;
}

std::string standing_stops_in_words(const SetUp& s) {
  std::string out;
  if (s.stop_stands) out += "The first stop stands already, from the set-up before. ";
  if (s.leave_standing) out += "The next set-up begins with the same stop: leave it standing.";
  return out;
}

std::string loose_block_caution(const CardRow& r) {
  return r.program && !r.program->cuts[r.cut].on_stick ? "Clamp it, never hold it by hand." : "";
}

std::vector<std::string> saw_cautions(const Shop& shop, const SetUp& s) {
  std::vector<std::string> lines = {
      "Drawn for a sled with the stop at your left and the blade at your right. On a sled the other way round "
      "everything is "
      "mirrored: left-handed blocks come out where right-handed ones are drawn.",
      "Make the stop's face wider than the stick on all sides. Blade at rest before you touch stops, gauge blocks or "
      "off-cuts; no chips in the cradle."};
  const bool loose =
      std::any_of(s.program.cuts.begin(), s.program.cuts.end(), [](const Cut& c) { return !c.on_stick; });
  lines.push_back(shop.sled.clamp_side == Side::left
                      ? "The part between stop and blade is clamped; the stick beyond must be held, too, and the blade "
                        "must stand before you unclamp: a part that is loose at the stop can bind and be thrown."
                      : "The stick is clamped beyond the blade: the severed block lies loose at the stop, where it can "
                        "bind and be thrown. Hold it down as well, or give it room.");
  if (loose)
    lines.push_back(
        "Loose blocks: hold them with a clamp or hold-down, never with fingers. If one cannot be held as the machine's "
        "manual asks, do not make the cut.");
  return lines;
}

}  // namespace stickwright
