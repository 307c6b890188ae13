#include "solver/linear_program.h"

#include <Clp_C_Interface.h>

#include <memory>

#include "solver/quiet.h"

namespace stickwright {
namespace {

struct FreeModel {
  void operator()(Clp_Simplex* m) const { Clp_deleteModel(m); }
};

}  // namespace

ProgramAnswer solve(const EqualityProgram& p) {
  const std::size_t columns = p.cost.size(), rows = p.right.size();
  // The library has something to say about empty programs, and nothing is to be solved in them.
  if (columns == 0 || rows == 0) return {true, std::vector<double>(columns), std::vector<double>(rows)};
  const std::vector<double> lower(columns, 0);
  const Quiet quiet;
  const std::unique_ptr<Clp_Simplex, FreeModel> m(Clp_newModel());
  Clp_setLogLevel(m.get(), 0);
  Clp_loadProblem(m.get(), static_cast<int>(columns), static_cast<int>(rows), p.start.data(), p.row.data(),
                  p.value.data(), lower.data(), p.upper.data(), p.cost.data(), p.right.data(), p.right.data());
  if (Clp_dual(m.get(), 0) != 0 && Clp_primal(m.get(), 0) != 0) return {};
  const double* x = Clp_primalColumnSolution(m.get());
  const double* price = Clp_dualRowSolution(m.get());
  return {true, {x, x + columns}, {price, price + rows}};
}

}  // namespace stickwright
