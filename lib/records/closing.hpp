#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct closing : recorded {
    quantity::period period;
    entry_no as_of = 0;
    std::string head_hash, prepared_by, reviewed_by, certified_by, accepted, figures;
    std::string early;     ///< why it was closed before its last day was over
    std::string withdrawn; ///< the closing of the period that was taken back before, and why
    std::string over_open; ///< why a year or the award was closed while quarters of it were open, and which
};

void admit(closing&& made, season& to);
extern const kind_info closing_kind;

} // namespace tarewell::records
