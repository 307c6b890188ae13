// The inner loops of neighbor_walk.cpp, for register_widths.h. Not for others.

typedef double Four __attribute__((vector_size(32), may_alias));
typedef double Eight __attribute__((vector_size(64), may_alias));
typedef std::int64_t EightWhole __attribute__((vector_size(64), may_alias));

STICKWRIGHT_INLINE const Four& four(const double* p) {
  return *reinterpret_cast<const Four*>(p);
}

// free = h . forces
void gather(const FreeTable& t, const double* h, double* free) {
  const int rows = static_cast<int>(t.rows.size());
  for (int at = 0; at < t.height; at += 4) {
    const double* value = t.values.data() + at;
    Four even = {0, 0, 0, 0}, odd = even;
    int r = 0;
    for (; r + 1 < rows; r += 2, value += 2 * t.height) {
      even += h[t.rows[r]] * four(value);
      odd += h[t.rows[r + 1]] * four(value + t.height);
    }
    if (r < rows) even += h[t.rows[r]] * four(value);
    *reinterpret_cast<Four*>(free + at) = even + odd;
  }
}

// Each value is summed in the same order wherever the vertex stands, so it is the same number in all lists.
LeastValue least_value(const VertexTable& t, const double* free) {
  const Eight zero = {0, 0, 0, 0, 0, 0, 0, 0};
  Eight least = zero + std::numeric_limits<double>::infinity();
  EightWhole which = {0, 0, 0, 0, 0, 0, 0, 0}, name = {0, 1, 2, 3, 4, 5, 6, 7};
  const double* share = t.shares.data();
  for (int k = 0; k < t.count; k += kTogether, name += kTogether) {
    Eight even = zero, odd = zero;
    int i = 0;
    for (; i + 1 < t.free; i += 2, share += 2 * kTogether) {
      even += free[i] * *reinterpret_cast<const Eight*>(share);
      odd += free[i + 1] * *reinterpret_cast<const Eight*>(share + kTogether);
    }
    if (i < t.free) even += free[i] * *reinterpret_cast<const Eight*>(share), share += kTogether;
    const Eight value = even + odd;
    which = value < least ? name : which;
    least = value < least ? value : least;
  }
  LeastValue best{least[0], which[0]};
  for (int j = 1; j < kTogether; ++j)
    if (least[j] < best.value) best = {least[j], which[j]};
  return best;
}
