#pragma once
#include "ledger/ledger.hpp"
#include "records/season.hpp"

namespace tarewell::ledger {

/// When there is an image beside a ledger.
struct image_use {
    entry_no from_entries_on = 20'000; ///< a smaller ledger is read as quickly without
    entry_no most_beyond = 4'096;      ///< entries that may follow after an image before it is written anew with them
};

/// With growers' contact details, which no image holds; or without any: every grower as one without a name.
enum class people { named, unnamed };

/// What load_season gives, by the image of the ledger's rows beside it where it is good; else the image is made from
/// the ledger, and kept there if that can be done. What an image does not reach comes from the ledger.
records::season quick_season(const ledger_file& from, entry_no seq, people whose = people::named, image_use use = {});

/// What `ledger check` finds of the image: nothing where the ledger has none or is not to have one.
struct image_check {
    enum class state { none, held, made_anew, differs };
    state found = state::none;
    entry_no reach = 0;
    std::string what; ///< why it was not used, or where it differs
};
/// Holds each row of a kept image that is good by its own sums to the ledger's, and replaces one that is not.
image_check check_image(const ledger_file& of, image_use use = {});

} // namespace tarewell::ledger
