#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "answers/truing_answer.h"

namespace stickwright {
namespace {

constexpr double kDegreesPerRad = Angle::radians(1).deg();

std::string leaves_in_words(const TurnBack& t, const std::vector<Leaf>& leaves) {
  std::vector<std::string> sizes;
  for (std::size_t i : t.shim.leaves) sizes.push_back(fmt::format("{:g}", to_mm(leaves[i].thickness).v));
  return fmt::format("{} of {} mm", sizes.size() == 1 ? "a leaf" : "leaves", fmt::join(sizes, " + "));
}

// What the error looks like at the saw.
const char* looks_like(Error e, bool positive) {
  switch (e) {
    case Error::miter:
      return positive ? "two opposite miters make a point that is too wide"
                      : "two opposite miters make a point that is too sharp";
    case Error::tilt:
      return positive ? "the blade's top leans over to the stop" : "the blade's top leans away from the stop";
    case Error::roll:
      return positive ? "the flank away from you is too high" : "the flank near you is too high";
    case Error::pitch:
      return positive ? "the cradle's end towards the blade is too high"
                      : "the cradle's end towards the blade is too low";
  }
  return "";
}

std::string what_to_do(const TruingAnswer& a, Error e) {
  const TurnBack& t = a.turn(e);
  switch (t.advice) {
    case TurnAdvice::leaf:
      // Three leaves at most go on each other; what is far off is turned by hand first.
      if (t.remaining_rad / a.found[e].rad > 0.5)
        return "The leaves owned reach less than half of it: turn it back by hand, and read again.";
      return fmt::format("Put {} {}.", leaves_in_words(t, a.leaves), t.at);
    case TurnAdvice::leave:
      return fmt::format("Leave it: {}.", t.why);
    default:
      return fmt::format("Turn it back by hand: {}.", t.why);
  }
}

// In words, then in numbers.
std::string error_lines(const TruingAnswer& a, Error e) {
  const Found& f = a.found[e];
  const TurnBack& t = a.turn(e);
  std::string out = fmt::format("{}: {}. {}\n", to_string(e), looks_like(e, f.rad > 0), what_to_do(a, e));
  out[0] = static_cast<char>(out[0] - 'a' + 'A');
  out += fmt::format("  {:+.4f} degrees, u = {:.4f} degrees", f.rad * kDegreesPerRad, f.u_rad * kDegreesPerRad);
  if (t.advice == TurnAdvice::leaf)
    out +=
        fmt::format("; with {} {:+.4f} degrees remain", leaves_in_words(t, a.leaves), t.remaining_rad * kDegreesPerRad);
  return out + ".\n";
}

bool is_one_error(const std::string& hidden) {
  return std::any_of(kErrors.begin(), kErrors.end(), [&](Error e) { return hidden == to_string(e); });
}

std::string unseen_lines(const Alignment& found) {
  std::vector<std::string> unseen;
  for (Error e : kErrors)
    if (!found[e].seen) unseen.push_back(to_string(e));
  if (unseen.empty()) return "";
  std::string out = fmt::format("These readings do not tell: {}.\n", fmt::join(unseen, ", "));
  for (const std::string& h : found.hidden)
    if (!is_one_error(h)) out += fmt::format("  Unseen together, since one makes up for the other: {}.\n", h);
  return out;
}

}  // namespace

std::string truing_report(const TruingAnswer& a) {
  std::string out;
  if (readings_contradict(a))
    out += contradiction_in_words(a) + "\n";
  else if (const std::string note = birge_note(a.found.fit); !note.empty())
    out += note + "\n";
  for (Error e : kErrors)
    if (a.found[e].seen) out += error_lines(a, e);
  out += unseen_lines(a.found);
  out += fmt::format("The next reading that tells most: {}{}.\n", a.found.next,
                     a.found.next_shows_more ? "; it shows what is unseen now" : "");
  return out + "Unplug the saw before you touch the blade or a screw near it, and follow the machine's manual.\n";
}

}  // namespace stickwright
