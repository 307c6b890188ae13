// form.h - a linear function of numbered quantities, of which it names only those that matter.
#pragma once
#include <array>
#include <span>
#include <utility>
#include <vector>

#include "saw/body.h"

namespace stickwright {

class Form {
 public:
  using Term = std::pair<int, double>;  // number, coefficient

  Form() = default;
  static Form of(int number, double coefficient = 1) {
    Form f;
    f.terms_ = {{number, coefficient}};
    return f;
  }
  std::span<const Term> terms() const { return terms_; }  // by number, each once
  double operator()(std::span<const double> values) const {
    double sum = 0;
    for (const auto& [k, c] : terms_) sum += c * values[static_cast<std::size_t>(k)];
    return sum;
  }
  // this += k * other
  void add(double k, const Form& other);
  // Drops terms no larger than this.
  void drop(double least);

  friend Form operator+(Form a, const Form& b) { return a.add(1, b), a; }
  friend Form operator-(Form a, const Form& b) { return a.add(-1, b), a; }
  friend Form operator*(double k, const Form& a) {
    Form f;
    f.add(k, a);
    return f;
  }

 private:
  std::vector<Term> terms_;
};

// A vector of forms, as BasicPoint is one of numbers.
struct FormPoint {
  Form a, b, t;
};
inline Form dot(Point n, const FormPoint& p) {
  return n.a * p.a + n.b * p.b + n.t * p.t;
}

}  // namespace stickwright
