#pragma once
#include <cstddef>
#include <set>
#include <string>

namespace tarewell::desk {

/// Which labels were printed, and where on its sheet the next one goes: no matter of the ledger, so it stands in a file
/// of its own beside it, which may be deleted. What others print at the same moment may be forgotten there.
struct printed_labels {
    std::string stock;          ///< as it was asked for, with the paper
    std::size_t next_label = 1; ///< the first free one, from 1
    std::set<std::string> bundles;

    /// What was kept for a ledger; nothing where there is no such file.
    static printed_labels of(const std::string& ledger_path);
    /// Throws records::io_error.
    void keep(const std::string& ledger_path) const;
};

} // namespace tarewell::desk
