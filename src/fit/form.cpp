#include "fit/form.h"

#include <algorithm>
#include <cmath>

namespace stickwright {

void Form::add(double k, const Form& other) {
  if (k == 0) return;
  std::vector<Term> sum;
  sum.reserve(terms_.size() + other.terms_.size());
  auto a = terms_.begin();
  auto b = other.terms_.begin();
  while (a != terms_.end() || b != other.terms_.end()) {
    if (b == other.terms_.end() || (a != terms_.end() && a->first < b->first)) {
      sum.push_back(*a++);
    } else if (a == terms_.end() || b->first < a->first) {
      sum.push_back({b->first, k * b->second});
      ++b;
    } else {
      sum.push_back({a->first, a->second + k * b->second});
      ++a, ++b;
    }
  }
  terms_ = std::move(sum);
}

void Form::drop(double least) {
  std::erase_if(terms_, [&](const Term& t) { return std::abs(t.second) <= least; });
}

}  // namespace stickwright
