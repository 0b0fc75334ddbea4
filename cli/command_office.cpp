#include "context.hpp"
#include "office/browser.hpp"
#include "office/server.hpp"

#include <fmt/format.h>
#include <sys/random.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    int port = 0;
    bool no_browser = false;
};

/// 32 bytes of the system's randomness as hexadecimal digits: a key that guards a door is drawn by nobody else.
std::string drawn_secret() {
    std::array<unsigned char, 32> bytes{};
    if (getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
        throw records::io_error("the system gave no random bytes");
    std::string text;
    for (const auto each : bytes)
        text += fmt::format("{:02x}", each);
    return text;
}

/// The ledger named; where none is, as from a menu, the person's own in the home folder, made when it is not there yet.
void choose_ledger(context& with) {
    const auto home = with.environment("HOME");
    if (with.names_a_ledger() || home.empty()) return;
    const auto folder = std::filesystem::path{home} / "Tarewell";
    with.ledger_path = (folder / "ledger.tarewell").string();
    if (std::filesystem::exists(with.ledger_path)) return;
    std::error_code failed;
    std::filesystem::create_directories(folder, failed);
    if (failed) throw records::io_error(fmt::format("{} could not be made: {}", folder.string(), failed.message()));
    ledger::ledger_file::create(with.ledger_path);
    with.out << fmt::format("made an empty ledger: {}\n", with.ledger_path);
}

void run_office(const options& how, context& with) {
    choose_ledger(with);
    office::server page{static_cast<unsigned>(how.port)};
    auto around = with.writing();
    const auto suggested = around.who;
    const bool said_who = !with.who.empty() || !with.environment("TAREWELL_WHO").empty();
    if (!said_who) around.who.clear();
    office::state state{with.path(), around,
                        office::gate{{drawn_secret(), drawn_secret(), drawn_secret()}, page.port()}};
    if (!said_who && suggested != "not given") state.who_suggested = suggested;
    const auto link = state.door.link();
    with.out << fmt::format(
                    "The office page of {} is open on this computer alone:\n\n    {}\n\nThe link is good once, in "
                    "one browser. Ctrl-C ends it.\n",
                    with.path(), link)
             << std::flush;
    if (!how.no_browser && !office::open_in_browser(link))
        with.err << "no browser could be opened here; open the link yourself\n";
    page.run(state);
    with.out << "\nThe office page is closed.\n" << std::flush;
    if (state.apart.is_working()) std::_Exit(done); // what it works out nobody waits for, and it only reads
}

} // namespace

void add_office(const command& program, context& with) {
    auto sub =
        program.add("office", "open the office page in the browser: enter, find, correct, files, quarter, audit");
    auto& how = program.keep<options>();
    sub.value("--port", how.port, "the port to serve it on (without: a free one)").between(1, 65535);
    sub.flag("--no-browser", how.no_browser, "print the link and open no browser");
    sub.does([&how, &with] { run_office(how, with); });
}

} // namespace tarewell::cli
