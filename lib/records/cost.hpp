#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct cost : recorded {
    std::string id, category, description, payee, source, subaward, document;
    std::string purpose; ///< one of purpose_words, where the row says
    site_place site;     ///< the site that it was spent for, where the row says
    day date;
    money amount;
    records::fund fund = fund::grant;
    std::optional<day> paid_on;
    shipment_place shipment;               ///< for which it was, where it is told
    std::optional<bool> in_base;           ///< of the indirect costs, where the row says
    std::optional<std::size_t> claimed_in; ///< its row in the season's requests
};

void check(const cost& made, const season& before, complaints& say);
void admit(cost&& made, season& to);
extern const kind_info cost_kind;

} // namespace tarewell::records
