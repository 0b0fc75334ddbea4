#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::desk {

/// What is wrong with one of several ledgers: a message that names it, and which error it is.
struct ledger_fault {
    enum class kind { input, ledger, busy, io };
    ledger_fault::kind is = kind::input;
    std::string text;
    [[noreturn]] void raise() const;
};

/// What the body throws of one of the ledgers at these paths; none where it goes well. The message names the ledger: a
/// database by its place among them, since an address may hold a password. Lets std::bad_alloc pass.
std::optional<ledger_fault> fault_in(const std::vector<std::string>& paths, std::size_t which,
                                     const std::function<void()>& body);

/// Opens every ledger, before anything is made of them together. Throws what is wrong with one: it is missing, damaged,
/// newer or busy, has no award, is named twice, or is a copy of another, as it stood or gone on by itself. Throws
/// records::refused, a line for each, where several are wrong.
void refuse_unfit(const std::vector<std::string>& paths);

} // namespace tarewell::desk
