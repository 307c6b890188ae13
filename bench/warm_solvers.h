// warm_solvers.h - the baseline of fit_bench: one warm-started solve of the whole linear program a sample.
#pragma once
#include <Clp_C_Interface.h>
#include <glpk.h>

#include <memory>
#include <span>
#include <stdexcept>
#include <vector>

#include "closing/balance_matrix.h"

namespace stickwright::bench {

// Least y . h with y >= 0 and balanced: [columns] rows, a column for each gap; only the costs change. The primal
// simplex of this form walks as the dual simplex of the other one does, with a smaller basis.
class GlpkPrimal {
 public:
  explicit GlpkPrimal(const Eigen::MatrixXd& m) : p_(glp_create_prob()) {
    glp_term_out(GLP_OFF);
    const int size = static_cast<int>(m.cols());
    glp_set_obj_dir(p_.get(), GLP_MIN);
    glp_add_rows(p_.get(), size);
    for (int c = 1; c <= size; ++c) glp_set_row_bnds(p_.get(), c, GLP_FX, c == size, c == size);
    glp_add_cols(p_.get(), static_cast<int>(m.rows()));
    for (int r = 0; r < static_cast<int>(m.rows()); ++r) {
      std::vector<int> at(1);
      std::vector<double> value(1);
      for (int c = 0; c < size; ++c)
        if (m(r, c) != 0) at.push_back(c + 1), value.push_back(m(r, c));
      glp_set_mat_col(p_.get(), r + 1, static_cast<int>(at.size()) - 1, at.data(), value.data());
      glp_set_col_bnds(p_.get(), r + 1, GLP_LO, 0, 0);
    }
    glp_init_smcp(&how_);
    how_.msg_lev = GLP_MSG_OFF;
    how_.meth = GLP_PRIMAL;
  }
  double solve(std::span<const double> h) {
    for (std::size_t r = 0; r < h.size(); ++r) glp_set_obj_coef(p_.get(), static_cast<int>(r) + 1, h[r]);
    return finish();
  }

 protected:
  double finish() {
    if (glp_simplex(p_.get(), &how_) != 0 || glp_get_status(p_.get()) != GLP_OPT) {
      glp_adv_basis(p_.get(), 0);
      if (glp_simplex(p_.get(), &how_) != 0) throw std::runtime_error("GLPK gives up");
    }
    return glp_get_obj_val(p_.get());
  }
  struct Free {
    void operator()(glp_prob* p) const { glp_delete_prob(p); }
  };
  std::unique_ptr<glp_prob, Free> p_;
  glp_smcp how_;
};

// Greatest s with s - (gap's change) <= h in every row; only the right side changes: dual simplex, warm.
class ClpDual {
 public:
  explicit ClpDual(const Eigen::MatrixXd& m) : p_(Clp_newModel()), none_(m.rows(), -1e30) {
    const int rows = static_cast<int>(m.rows()), size = static_cast<int>(m.cols());
    std::vector<int> start = {0}, at;
    std::vector<double> value, cost(size), low(size, -1e30), high(size, 1e30), right(rows, 1.0);
    cost.back() = -1;
    for (int c = 0; c < size; ++c) {
      for (int r = 0; r < rows; ++r)
        if (m(r, c) != 0) at.push_back(r), value.push_back(m(r, c));
      start.push_back(static_cast<int>(at.size()));
    }
    Clp_setLogLevel(p_.get(), 0);
    Clp_loadProblem(p_.get(), size, rows, start.data(), at.data(), value.data(), low.data(), high.data(), cost.data(),
                    none_.data(), right.data());
  }
  double solve(std::span<const double> h) {
    Clp_chgRowUpper(p_.get(), h.data());
    if (Clp_dual(p_.get(), 0) != 0 && Clp_primal(p_.get(), 0) != 0) throw std::runtime_error("Clp gives up");
    return -Clp_objectiveValue(p_.get());
  }

 private:
  struct Free {
    void operator()(Clp_Simplex* p) const { Clp_deleteModel(p); }
  };
  std::unique_ptr<Clp_Simplex, Free> p_;
  std::vector<double> none_;
};

}  // namespace stickwright::bench
