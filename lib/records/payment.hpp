#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

enum class payment_kind { advance, reimbursement, retainage };

/// Money received from the agency, and what it kept back of it.
struct payment : recorded {
    std::string id, request;
    day date;
    payment_kind kind = payment_kind::advance;
    money amount, retained;
    bool has_document = false;
};

void check(const payment& made, const season& before, complaints& say);
void admit(payment&& made, season& to);
extern const kind_info payment_record;

} // namespace tarewell::records
