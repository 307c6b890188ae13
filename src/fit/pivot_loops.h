// The inner loops of pivots.cpp, which includes this once for each width of vector registers. Not for others.
//
// Four numbers abreast: a contact area has four corners more often than not.

typedef double Four __attribute__((vector_size(32), may_alias));
typedef std::int64_t FourWhole __attribute__((vector_size(32), may_alias));

STICKWRIGHT_INLINE const Four& four(const double* p) {
  return *reinterpret_cast<const Four*>(p);
}
STICKWRIGHT_INLINE Four& four(double* p) {
  return *reinterpret_cast<Four*>(p);
}

// Scores are not negative; which is greater is decided by their first bits, the last ones name the place.
STICKWRIGHT_INLINE int best_place(const FourWhole& best) {
  std::int64_t top = best[0];
  for (int j = 1; j < 4; ++j) top = best[j] > top ? best[j] : top;
  return static_cast<int>(top & kTag);
}

struct Choice {
  int place;
  double least_slack;
};

// Slacks less `times` row . table, or, from nothing, gaps less that; and the row to enter.
template <bool kFromNothing>
STICKWRIGHT_INLINE Choice price(const RowTable& t, PivotWork& w, const double* row, double times) {
  FourWhole best = {0, 0, 0, 0}, place = {0, 1, 2, 3};
  Four least = {0, 0, 0, 0};
  const Four zero = {0, 0, 0, 0};
  const double* before = kFromNothing ? w.gap.data() : w.slack.data();
  double* slack = w.slack.data();
  const double* weight = w.weight.data();
  int at = 0;
  for (const RowGroup& g : t.groups) {
    const int* columns = t.columns.data() + g.column;
    const double* values = t.values.data() + g.values;
    for (int in = 0; in < g.length; in += kAbreast, at += kAbreast) {
      Four sum = zero, other = zero;
      int c = 0;
      for (; c + 1 < g.columns; c += 2) {
        sum += row[columns[c]] * four(values + c * g.length + in);
        other += row[columns[c + 1]] * four(values + (c + 1) * g.length + in);
      }
      if (c < g.columns) sum += row[columns[c]] * four(values + c * g.length + in);
      const Four now = four(before + at) - times * (sum + other);
      four(slack + at) = now;
      const Four short_by = now < zero ? now : zero;
      least = short_by < least ? short_by : least;
      const Four score = short_by * short_by * four(weight + at);
      const FourWhole tagged = (reinterpret_cast<const FourWhole&>(score) & ~kTag) | place;
      best = tagged > best ? tagged : best;
      place += kAbreast;
    }
  }
  double low = least[0];
  for (int j = 1; j < 4; ++j) low = least[j] < low ? least[j] : low;
  return {best_place(best), low};
}

// position = gaps of the basis . inverse.
STICKWRIGHT_INLINE void stand(const RowTable& t, const KnownBasis& from, PivotWork& w) {
  const int height = t.height;
  for (int at = 0; at < height; at += kAbreast) {
    Four sum = {0, 0, 0, 0}, other = sum;
    int i = 0;
    for (; i + 1 < t.size; i += 2) {
      sum += w.gap[from.places[i]] * four(from.by_row.data() + i * height + at);
      other += w.gap[from.places[i + 1]] * four(from.by_row.data() + (i + 1) * height + at);
    }
    if (i < t.size) sum += w.gap[from.places[i]] * four(from.by_row.data() + i * height + at);
    four(w.position.data() + at) = sum + other;
  }
}

// The entering row in terms of the basis.
STICKWRIGHT_INLINE void basis_change(const RowTable& t, const KnownBasis& from, PivotWork& w, int place) {
  const int height = t.height;
  double* change = w.change.data();
  for (int at = 0; at < height; at += kAbreast) four(change + at) = Four{0, 0, 0, 0};
  const RowGroup& g = t.groups[t.group_at[place]];
  for (int c = 0; c < g.columns; ++c) {
    const double k = t.values[g.values + c * g.length + (place - g.first)];
    if (k == 0) continue;
    const double* column = from.by_column.data() + t.columns[g.column + c] * height;
    for (int at = 0; at < height; at += kAbreast) four(change + at) += k * four(column + at);
  }
  for (std::size_t e = 0; e < w.exchanged.size(); ++e) {
    const double k = change[w.exchanged[e]];
    if (k == 0) continue;
    const double* exchange = w.exchanges.data() + e * height;
    for (int at = 0; at < height; at += kAbreast) four(change + at) -= k * four(exchange + at);
  }
}

// The position in the basis that gives way: the largest entry of those that allow the least step.
STICKWRIGHT_INLINE int leaving(const RowTable& t, const PivotWork& w) {
  const double* change = w.change.data();
  const double* force = w.force.data();
  const Four zero = {0, 0, 0, 0}, pivot = zero + kPivot, none = zero + kNone;
  Four least = none;
  for (int at = 0; at < t.height; at += kAbreast) {
    const Four entry = four(change + at), f = four(force + at);
    const Four ratio = ((f > zero ? f : zero) + kForce) / entry;
    const Four step = entry > pivot ? ratio : none;
    least = step < least ? step : least;
  }
  double step = least[0];
  for (int j = 1; j < 4; ++j) step = least[j] < step ? least[j] : step;
  if (step == kNone) return -1;
  FourWhole best = {0, 0, 0, 0}, place = {0, 1, 2, 3};
  for (int at = 0; at < t.height; at += kAbreast) {
    const Four entry = four(change + at);
    const Four allowed = four(force + at) <= step * entry ? entry : zero;
    const Four score = entry > pivot ? allowed : zero;
    const FourWhole tagged = (reinterpret_cast<const FourWhole&>(score) & ~kTag) | place;
    best = tagged > best ? tagged : best;
    place += kAbreast;
  }
  return best_place(best);
}

// The leaving position's row of the inverse, into w.row. Only positions exchanged before have a part in it.
STICKWRIGHT_INLINE void inverse_row(const RowTable& t, const KnownBasis& from, PivotWork& w, int out) {
  double* part = w.part_of_row.data();
  w.touched.clear();
  w.touched.push_back(out);
  part[out] = 1;
  for (std::size_t e = w.exchanged.size(); e-- > 0;) {
    const double* exchange = w.exchanges.data() + e * t.height;
    double sum = 0;
    for (const int i : w.touched) sum += part[i] * exchange[i];
    const int at = w.exchanged[e];
    if (sum == 0) continue;
    if (part[at] == 0 && std::find(w.touched.begin(), w.touched.end(), at) == w.touched.end()) w.touched.push_back(at);
    part[at] -= sum;
  }
  double* row = w.row.data();
  for (int at = 0; at < t.height; at += kAbreast) {
    Four sum = {0, 0, 0, 0};
    for (const int i : w.touched) sum += part[i] * four(from.by_row.data() + i * t.height + at);
    four(row + at) = sum;
  }
  for (const int i : w.touched) part[i] = 0;
}

STICKWRIGHT_INLINE Choice exchange(const RowTable& t, const KnownBasis& from, PivotWork& w, int out, int in) {
  inverse_row(t, from, w, out);
  const double over = 1 / w.change[out], step = (w.force[out] > 0 ? w.force[out] : 0.0) * over;
  double* kept = w.exchanges.data() + w.exchanged.size() * t.height;
  for (int at = 0; at < t.height; at += kAbreast) {
    const Four change = four(w.change.data() + at);
    four(w.force.data() + at) -= step * change;
    four(kept + at) = over * change;
  }
  w.force[out] = step;
  kept[out] = 1 - over;
  w.exchanged.push_back(out);
  w.weight[w.basis[out]] = 1 / (1 + over * over);
  w.basis[out] = in;
  const double times = w.slack[in] * over;
  for (int at = 0; at < t.height; at += kAbreast) four(w.position.data() + at) += times * four(w.row.data() + at);
  return price<false>(t, w, w.row.data(), times);
}

STICKWRIGHT_TARGET PivotEnd pivot(const RowTable& t, const KnownBasis& from, PivotWork& w, double enough) {
  stand(t, from, w);
  Choice in = price<true>(t, w, w.position.data(), 1);
  for (bool fresh = true;;) {
    const bool done = in.least_slack >= -kSlack;
    if (done || w.play() + in.least_slack >= enough) {
      w.least_slack = in.least_slack;
      if (fresh) return done ? PivotEnd::done : PivotEnd::enough;
      in = price<true>(t, w, w.position.data(), 1);
      fresh = true;
      continue;
    }
    if (w.exchanged.size() == kMostExchanges) return PivotEnd::full;
    basis_change(t, from, w, in.place);
    const int out = leaving(t, w);
    if (out < 0) return PivotEnd::stuck;
    in = exchange(t, from, w, out, in.place);
    fresh = false;
  }
}

STICKWRIGHT_TARGET void least_of_eight(const ForceList& vertices, const double* gap, LeastOfEight& out) {
  const Four none = Four{0, 0, 0, 0} + kNone;
  Four low = none, high = none;
  FourWhole low_name = {0, 0, 0, 0}, high_name = low_name, name = low_name;
  const int count = vertices.count();
  const int* place = vertices.place.data();
  const double* share = vertices.share.data();
  const int* start = vertices.start.data();
  int i = 0;
  for (int k = 0; k < count; ++k) {
    Four a = {0, 0, 0, 0}, b = a;
    for (const int end = start[k + 1]; i < end; ++i) {
      const double* g = gap + static_cast<std::ptrdiff_t>(place[i]) * kLanes;
      a += share[i] * four(g);
      b += share[i] * four(g + 4);
    }
    low_name = a < low ? name : low_name;
    low = a < low ? a : low;
    high_name = b < high ? name : high_name;
    high = b < high ? b : high;
    name += 1;
  }
  for (int j = 0; j < 4; ++j) {
    out.value[j] = low[j], out.which[j] = low_name[j];
    out.value[j + 4] = high[j], out.which[j + 4] = high_name[j];
  }
}
