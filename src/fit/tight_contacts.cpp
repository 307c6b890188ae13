#include "fit/tight_contacts.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "closing/seen_gaps.h"
#include "fit/dimensions.h"

namespace stickwright {
namespace {

constexpr double kBalanced = 1e-9;   // forces add up to 1; moments by the size of the puzzle in mm
constexpr double kGapWithin = 1e-9;  // mm

double gap_at(const GapRows& rows, std::size_t r, double h, const std::vector<Twist>& moved) {
  const GapRow& row = rows.rows[r];
  const auto shift = [&](int body) {
    const auto b = static_cast<std::size_t>(body);
    return moved[b].slide + cross(moved[b].turn, row.at - rows.center[b]);
  };
  return h + dot(row.normal, shift(row.to) - shift(row.from));
}

// Index of the play in the middle.
std::size_t middle_of(const std::vector<double>& plays) {
  const double wanted = median(plays);
  return static_cast<std::size_t>(std::find(plays.begin(), plays.end(), wanted) - plays.begin());
}

}  // namespace

TightContacts tight_contacts(const GapForms& gaps, const std::vector<bool>& seen, const PuzzlePlays& plays,
                             const AlterBunch& alter, std::int64_t samples) {
  TightContacts out;
  const std::size_t rows = gaps.rows.rows.size(), lanes = plays.draws().lanes();
  VertexWalk walk(plays.program());
  std::vector<double> values, h, drawn, pressed(rows);
  for (std::uint64_t bunch = 0; bunch < plays.bunches_for(samples); ++bunch) {
    plays.gaps(bunch, values, h, alter);
    for (std::size_t i = 0; i < lanes; ++i) {
      const ClosedFit fit = walk.fit(std::span(h).subspan(i * rows, rows));
      drawn.push_back(fit.play_mm);
      for (const ContactForce& f : fit.forces) pressed[static_cast<std::size_t>(f.row)] += f.share;
    }
  }
  const std::size_t middle = middle_of(drawn);
  plays.gaps(middle / lanes, values, h, alter);
  const auto shown = std::span(h).subspan(middle % lanes * rows, rows);
  const ClosedFit fit = walk.fit(shown);
  if (!check_closed_fit(gaps.rows, shown, fit)) throw std::logic_error("the independent checker refuses a closed fit");
  PushedTogether pushed{0, fit.moved};
  if (std::find(seen.begin(), seen.end(), true) != seen.end())
    pushed = SeenGaps(plays.program(), seen).push(shown, fit.play_mm);
  out.play_mm = fit.play_mm, out.widest_mm = pushed.widest_mm;
  out.contacts.resize(gaps.contact.empty() ? 0 : static_cast<std::size_t>(gaps.contact.back()) + 1);
  for (std::size_t c = 0; c < out.contacts.size(); ++c) out.contacts[c] = {static_cast<int>(c), INFINITY, 0, 0};
  for (std::size_t r = 0; r < rows; ++r) {
    ContactFit& c = out.contacts[static_cast<std::size_t>(gaps.contact[r])];
    c.gap_mm = std::min(c.gap_mm, gap_at(gaps.rows, r, shown[r], pushed.moved));
    c.often += pressed[r] / static_cast<double>(drawn.size());
  }
  for (const ContactForce& f : fit.forces)
    out.contacts[static_cast<std::size_t>(gaps.contact[static_cast<std::size_t>(f.row)])].pressed += f.share;
  std::stable_sort(out.contacts.begin(), out.contacts.end(),
                   [](const ContactFit& a, const ContactFit& b) { return a.pressed > b.pressed; });
  return out;
}

OpenJoints open_joints(const GapForms& gaps, const std::vector<bool>& seen, const PuzzlePlays& plays,
                       const AlterBunch& alter, std::int64_t samples) {
  const std::size_t rows = gaps.rows.rows.size(), lanes = plays.draws().lanes();
  const SeenGaps seen_gaps(plays.program(), seen);
  VertexWalk walk(plays.program());
  std::vector<double> values, h, widest;
  for (std::uint64_t bunch = 0; static_cast<std::int64_t>(widest.size()) < samples; ++bunch) {
    plays.gaps(bunch, values, h, alter);
    for (std::size_t i = 0; i < lanes && static_cast<std::int64_t>(widest.size()) < samples; ++i) {
      const auto one = std::span(h).subspan(i * rows, rows);
      widest.push_back(seen_gaps.push(one, walk.play(one)).widest_mm);
    }
  }
  std::sort(widest.begin(), widest.end());
  return {median(widest), widest[static_cast<std::size_t>(0.95 * static_cast<double>(widest.size() - 1))]};
}

bool check_closed_fit(const GapRows& rows, std::span<const double> h, const ClosedFit& fit) {
  std::vector<Point> force(static_cast<std::size_t>(rows.bodies)), moment(force.size());
  double sum = 0, value = 0, reach = 1;
  for (const ContactForce& f : fit.forces) {
    const auto r = static_cast<std::size_t>(f.row);
    const GapRow& row = rows.rows[r];
    if (f.share < 0) return false;
    sum += f.share, value += f.share * h[r];
    for (const auto& [body, way] : {std::pair(row.to, 1.0), std::pair(row.from, -1.0)}) {
      const auto b = static_cast<std::size_t>(body);
      const Point arm = row.at - rows.center[b], push = way * f.share * row.normal;
      force[b] = force[b] + push;
      moment[b] = moment[b] + cross(arm, push);
      reach = std::max(reach, length(arm));
    }
  }
  if (std::abs(sum - 1) > kBalanced || std::abs(value - fit.play_mm) > kGapWithin) return false;
  for (std::size_t b = 0; b < force.size(); ++b)
    if (length(force[b]) > kBalanced || length(moment[b]) > kBalanced * reach) return false;
  for (std::size_t r = 0; r < rows.rows.size(); ++r)
    if (gap_at(rows, r, h[r], fit.moved) < fit.play_mm - kGapWithin) return false;
  return true;
}

}  // namespace stickwright
