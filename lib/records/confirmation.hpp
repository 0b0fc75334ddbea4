#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// What the office has looked at and found right, so that the audit takes it for no slip. It speaks of what stood in
/// force when it was entered: what is corrected later is open again.
struct confirmation : recorded {
    enum class thing { ticket, registration };
    thing confirms = thing::ticket;
    std::string id, why; ///< of the ticket or registration
};

void check(const confirmation& made, const season& before, complaints& say);
void admit(confirmation&& made, season& to);
extern const kind_info confirmation_kind;

} // namespace tarewell::records
