#pragma once
#include "desk/answer.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::desk {

/// A cover by its size, as typed.
struct cover_request {
    std::string length, width, rise, mil, name = "NAME";
    std::string factor, area_weight, density, aim, maximum; ///< empty: the program's
    int layers = 1;
    bool half_circle = false, flat = false, metres = false;
    std::string unit = "lb"; ///< of the weights: lb or kg
};

/// The cover's film area, weight and bundles. What was not given is the ledger's setting, or without one the usual
/// number. Throws records::input_error for what is no size.
answer estimate_of(const cover_request& how, const ledger::ledger_file* settings);

} // namespace tarewell::desk
