// The inner loops of pivots.cpp, for register_widths.h. Not for others.
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

struct PivotChoice {
  int place;
  double least_slack;
};

// Slacks less `times` row . table, or, from nothing, gaps less that; and the row to enter.
template <bool kFromNothing>
STICKWRIGHT_INLINE PivotChoice price(const RowTable& t, PivotWork& w, const double* row, double times, double entered = 0) {
  FourWhole best = {0, 0, 0, 0}, place = {0, 1, 2, 3};
  Four least = {0, 0, 0, 0};
  const Four zero = {0, 0, 0, 0};
  const double* before = kFromNothing ? w.gap.data() : w.slack.data();
  double* slack = w.slack.data();
  double* weight = w.weight.data();
  const Four last = zero + row[t.size - 1];
  const int* column = t.columns.data();
  const double* value = t.values.data();
  int at = 0;
  for (const FourRows& f : t.fours) {
    Four sum = last, other = zero, third = zero, fourth = zero;
    for (int left = f.columns; left > 0; left -= 4, column += 4, value += 4 * kAbreast) {
      sum += row[column[0]] * four(value);
      other += row[column[1]] * four(value + kAbreast);
      third += row[column[2]] * four(value + 2 * kAbreast);
      fourth += row[column[3]] * four(value + 3 * kAbreast);
    }
    const Four along = (sum + other) + (third + fourth);
    const Four now = four(before + at) - times * along;
    if constexpr (!kFromNothing) {
      const Four less = entered / (along * along), had = four(weight + at);
      four(weight + at) = less < had ? less : had;
    }
    four(slack + at) = now;
    const Four short_by = now < zero ? now : zero;
    least = short_by < least ? short_by : least;
    const Four score = short_by * short_by * four(weight + at);
    const FourWhole tagged = (reinterpret_cast<const FourWhole&>(score) & ~kTag) | place;
    best = tagged > best ? tagged : best;
    place += kAbreast;
    at += kAbreast;
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

// A sum of columns of the known inverse, or of exchanges.
struct Terms {
  double factor[kMostTerms];
  const double* column[kMostTerms];
  int count = 0;
  STICKWRIGHT_INLINE_MEMBER void add(double k, const double* c) { factor[count] = k, column[count++] = c; }
};

STICKWRIGHT_INLINE Four sum_at(const Terms& terms, int at) {
  Four sum = {0, 0, 0, 0}, other = sum;
  int c = 0;
  for (; c + 1 < terms.count; c += 2) {
    sum += terms.factor[c] * four(terms.column[c] + at);
    other += terms.factor[c + 1] * four(terms.column[c + 1] + at);
  }
  if (c < terms.count) sum += terms.factor[c] * four(terms.column[c] + at);
  return sum + other;
}

// By how much each exchange counts for a column that is `column` before them.
STICKWRIGHT_INLINE void exchange_terms(const RowTable& t, const PivotWork& w, const double* column, Terms& terms) {
  const int count = static_cast<int>(w.exchanged.size());
  alignas(32) double left[kMostExchanges];
  for (int e = 0; e < count; ++e) left[e] = column[w.exchanged[e]];
  for (int e = 0; e < count; ++e) {
    const double k = left[e];
    if (k == 0) continue;
    terms.add(-k, w.exchanges.data() + e * t.height);
    const double* later = w.met_later.data() + e * kMostExchanges;
    for (int at = (e + 1) / kAbreast * kAbreast; at < count; at += kAbreast) four(left + at) -= k * four(later + at);
  }
}

// The entering row in terms of the basis, and the longest step that keeps all forces.
STICKWRIGHT_INLINE double basis_change(const RowTable& t, const KnownBasis& from, PivotWork& w, int place) {
  Terms terms;
  const FourRows& f = t.fours[place / kAbreast];
  for (int c = f.first_column; c < f.first_column + f.columns; ++c)
    if (const double k = t.values[c * kAbreast + place % kAbreast]; k != 0)
      terms.add(k, from.by_column.data() + t.columns[c] * t.height);
  terms.add(1, from.by_column.data() + (t.size - 1) * t.height);
  double* change = w.change.data();
  for (int at = 0; at < t.height; at += kAbreast) four(change + at) = sum_at(terms, at);
  terms.count = 0;
  exchange_terms(t, w, change, terms);
  const Four zero = {0, 0, 0, 0}, pivot = zero + kPivot, none = zero + kNone;
  Four least = none;
  for (int at = 0; at < t.height; at += kAbreast) {
    const Four entry = four(change + at) + sum_at(terms, at), force = four(w.force.data() + at);
    four(w.change.data() + at) = entry;
    const Four ratio = ((force > zero ? force : zero) + kForce) / entry;
    const Four step = entry > pivot ? ratio : none;
    least = step < least ? step : least;
  }
  double step = least[0];
  for (int j = 1; j < 4; ++j) step = least[j] < step ? least[j] : step;
  return step;
}

// The position in the basis that gives way: the largest entry of those that allow the least step.
STICKWRIGHT_INLINE int leaving(const RowTable& t, const PivotWork& w, double step) {
  const double* change = w.change.data();
  const double* force = w.force.data();
  const Four zero = {0, 0, 0, 0}, pivot = zero + kPivot;
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
  const int count = static_cast<int>(w.exchanged.size());
  alignas(32) double part[kMostExchanges];  // of each exchange, at its position
  Terms terms;
  terms.add(1, from.by_row.data() + out * t.height);
  for (int e = 0; e < count; ++e) part[e] = w.exchanges[e * t.height + out];
  for (int e = count; e-- > 0;) {
    const double k = part[e];
    if (k == 0) continue;
    terms.add(-k, from.by_row.data() + w.exchanged[e] * t.height);
    const double* earlier = w.met_earlier.data() + e * kMostExchanges;
    for (int at = 0; at < e; at += kAbreast) four(part + at) -= k * four(earlier + at);
  }
  for (int at = 0; at < t.height; at += kAbreast) four(w.row.data() + at) = sum_at(terms, at);
}

STICKWRIGHT_INLINE PivotChoice exchange(const RowTable& t, const KnownBasis& from, PivotWork& w, int out, int in) {
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
  const std::size_t now = w.exchanged.size();
  for (std::size_t e = 0; e < now; ++e)
    w.met_later[e * kMostExchanges + now] = w.met_earlier[now * kMostExchanges + e] = w.exchanges[e * t.height + out];
  w.exchanged.push_back(out);
  const double entered = w.weight[in];
  w.basis[out] = in;
  const double times = w.slack[in] * over;
  for (int at = 0; at < t.height; at += kAbreast) four(w.position.data() + at) += times * four(w.row.data() + at);
  return price<false>(t, w, w.row.data(), times, entered);
}

void reached(const RowTable& t, PivotWork& w, KnownBasis& k) {
  double* row_out = w.row.data();
  for (std::size_t e = 0; e < w.exchanged.size(); ++e) {
    const double* exchange = w.exchanges.data() + e * t.height;
    std::copy_n(k.by_row.data() + w.exchanged[e] * t.height, t.height, row_out);
    for (int i = 0; i < t.size; ++i) {
      const double times = exchange[i];
      if (times == 0) continue;
      double* row = k.by_row.data() + i * t.height;
      for (int at = 0; at < t.height; at += kAbreast) four(row + at) -= times * four(row_out + at);
    }
  }
  for (int i = 0; i < t.size; ++i)
    for (int c = 0; c < t.size; ++c) k.by_column[c * t.height + i] = k.by_row[i * t.height + c];
}

PivotEnd pivot(const RowTable& t, const KnownBasis& from, PivotWork& w, double enough) {
  stand(t, from, w);
  PivotChoice in = price<true>(t, w, w.position.data(), 1);
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
    const double step = basis_change(t, from, w, in.place);
    if (step == kNone) return PivotEnd::stuck;
    const int out = leaving(t, w, step);
    in = exchange(t, from, w, out, in.place);
    fresh = false;
  }
}

void least_of_eight(const ForceList& vertices, const double* gap, LeastOfEight& out) {
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
