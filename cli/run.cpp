#include "context.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {

const std::vector<table_entry>& commands() {
    static const std::vector<table_entry> table = {
        {"new", add_new},           {"intake", add_intake},     {"record", add_record},
        {"correct", add_correct},   {"void", add_void},         {"list", add_list},
        {"settings", add_settings}, {"estimate", add_estimate}, {"reconcile", add_reconcile},
        {"flags", add_flags},       {"quarter", add_quarter},   {"report", add_report},
        {"trace", add_trace},       {"ledger", add_ledger},     {"growers", add_growers},
        {"document", add_document}, {"award", add_award},       {"audit", add_audit},
    };
    return table;
}

std::string context::path() const {
    if (!ledger_path.empty()) return ledger_path;
    if (auto named = environment("TAREWELL_LEDGER"); !named.empty()) return named;
    throw ledger::input_error("no ledger is named; give --ledger FILE or set TAREWELL_LEDGER");
}

ledger::ledger_file context::open() const { return ledger::ledger_file::open(path()); }

void set_up(command_line& line, context& with) {
    const auto program = line.root();
    program.value("--ledger", with.ledger_path, "the ledger's file (or set TAREWELL_LEDGER)");
    program.value("--who", with.who, "who makes the entries (or set TAREWELL_WHO)");
    for (const auto& each : commands())
        each.add(program, with);
    // After the commands, which would each repeat it.
    line.footer("Exit codes: 0 fine, 1 checks found something, 2 usage, 65 bad input (nothing was "
                "taken in), 74 a file could not be read or written, 75 the ledger is in use.\n"
                "Bundles and bales are heavy and baling wire is under tension: lift with help, keep "
                "clear of the ram, and follow your site's rules and local codes.");
}

int run(const std::vector<std::string>& arguments, context& with) {
    try {
        command_line line{"tarewell", "Tarewell: a ledger for programs that collect used agricultural film and must "
                                      "prove what was diverted and what it cost."};
        set_up(line, with);
        const auto told = line.run(arguments, with.out, with.err);
        if (told == usage && !arguments.empty() &&
            std::none_of(commands().begin(), commands().end(), [&](const auto& each) {
                return std::find(arguments.begin(), arguments.end(), each.name) != arguments.end();
            }))
            with.err << fmt::format("'{}' is no command; `tarewell --help` lists them\n", arguments.front());
        return told.value_or(with.exit);
    } catch (const ledger::refused& refusal) {
        for (const auto& line : refusal.lines())
            with.err << line << '\n';
        with.err << fmt::format("refused: {} {}; nothing was changed\n", refusal.lines().size(),
                                refusal.lines().size() == 1 ? "fault" : "faults");
        return bad_input;
    } catch (const ledger::input_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    } catch (const ledger::ledger_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    } catch (const ledger::busy_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return busy;
    } catch (const ledger::io_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return input_output;
    } catch (const std::bad_alloc&) {
        with.err
            << "tarewell: memory ran out; make room and run the command again: what is in the ledger already is not "
               "taken in twice\n";
        return input_output;
    } catch (const std::exception& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    }
}

} // namespace tarewell::cli
