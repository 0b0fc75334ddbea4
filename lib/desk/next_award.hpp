#pragma once
#include "desk/answer.hpp"
#include "intake/intake.hpp"

namespace tarewell::desk {

/// How the next award begins with what an older ledger knows.
struct next_award {
    std::string file, from;     ///< the new ledger, which is not there yet, and the older one
    intake::named_values terms; ///< of the new award, by the award's columns; what is not told stays as it was
    bool growers = true;
    bool maps = true;
};

/// Makes a ledger with the award, and with the older one's sites, scales, settings as they stood at its end, maps, and
/// growers: neither those whose details were erased nor, of one person under several ids, any but the one that stands.
/// All of it is one act, whose reason names the older ledger's award, entry and fingerprint. Nothing is left where it
/// fails. Throws records::input_error where the new file is there, or terms are missing; records::refused.
answer begin_next_award(const next_award& how, const ledger::surroundings& around);

} // namespace tarewell::desk
