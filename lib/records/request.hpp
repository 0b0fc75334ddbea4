#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// One cost claimed in a reimbursement request.
struct request_row : recorded {
    std::string request, document;
    day date;
    std::size_t cost = 0; ///< its place in the season
    money indirect;       ///< of the whole request
};

void check(const request_row& made, const season& before, complaints& say);
void admit(request_row&& made, season& to);
extern const kind_info request_kind;

} // namespace tarewell::records
