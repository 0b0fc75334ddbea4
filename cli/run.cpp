#include "context.hpp"
#include "desk/maps.hpp"
#include "examples.hpp"
#include "render/form_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <version.hpp>

namespace tarewell::cli {

const std::vector<table_entry>& commands() {
    // clang-format off: a line for each
    static const std::vector<table_entry> table = {
        {"new", add_new},
        {"register", add_register},
        {"intake", add_intake},
        {"record", add_record},
        {"enter", add_enter},
        {"correct", add_correct},
        {"void", add_void},
        {"undo", add_undo},
        {"list", add_list},
        {"due", add_due},
        {"settle", add_settle},
        {"sites", add_sites},
        {"settings", add_settings},
        {"estimate", add_estimate},
        {"reconcile", add_reconcile},
        {"flags", add_flags},
        {"quarter", add_quarter},
        {"rollup", add_rollup},
        {"report", add_report},
        {"print", add_print},
        {"trace", add_trace},
        {"costs", add_costs},
        {"ledger", add_ledger},
        {"growers", add_growers},
        {"document", add_document},
        {"award", add_award},
        {"audit", add_audit},
        {"office", add_office},
        {"reference", add_reference},
    };
    // clang-format on
    return table;
}

const std::vector<exit_meaning>& exit_codes() {
    static const std::vector<exit_meaning> table = {
        {done, "fine"},
        {findings, "checks found something"},
        {usage, "usage"},
        {bad_input, "bad input (nothing was imported)"},
        {input_output, "a file could not be read or written"},
        {busy, "the ledger is in use"},
    };
    return table;
}

std::string context::path() const {
    if (!ledger_path.empty()) return ledger_path;
    if (auto named = environment("TAREWELL_LEDGER"); !named.empty()) return named;
    throw records::input_error("no ledger is named; give --ledger FILE or set TAREWELL_LEDGER");
}

ledger::ledger_file context::open() const { return ledger::ledger_file::open(path()); }

ledger::surroundings context::writing() const {
    auto made = around;
    for (const auto& name : {who, environment("TAREWELL_WHO"), environment("USER"), environment("LOGNAME")})
        if (made.who.empty()) made.who = name;
    if (made.who.empty()) made.who = "not given";
    return made;
}

void context::print(const desk::answer& of) {
    if (of.found) exit = findings;
    out << (json ? of.json() : of.text());
}

namespace {

/// The command that the arguments name; null where that isn't plain.
const table_entry* asked_for(const std::vector<std::string>& arguments) {
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const auto& said = arguments[i];
        if (said == "--ledger" || said == "--who") {
            ++i;
            continue;
        }
        if (said.starts_with("--ledger=") || said.starts_with("--who=")) continue;
        const auto found = std::find_if(commands().begin(), commands().end(),
                                        [&](const table_entry& each) { return each.name == said; });
        return found == commands().end() ? nullptr : &*found;
    }
    return nullptr;
}

/// With the command alone that is asked for, or with all: most of the program's start would be the others' options.
void set_up_with(command_line& line, context& with, const table_entry* alone) {
    const auto program = line.root();
    program.value("--ledger", with.ledger_path, "the ledger: its file, or postgresql://HOST/DATABASE (or set TAREWELL_LEDGER)");
    program.value("--who", with.who, "who makes the entries (or set TAREWELL_WHO)");
    for (const auto& each : commands())
        if (alone == nullptr || alone == &each) each.add(program, with);
    line.version(fmt::format("tarewell {}", version));
    line.examples(example_of);
    // After the commands, which would each repeat it.
    std::string codes;
    for (const auto& each : exit_codes())
        codes += fmt::format("{}{} {}", codes.empty() ? "" : ", ", static_cast<int>(each.code), each.meaning);
    line.footer("Exit codes: " + codes +
                ".\n"
                "Bundles and bales are heavy and baling wire is under tension: lift with help, keep "
                "clear of the ram, and follow your site's rules and local codes.");
}

} // namespace

void set_up(command_line& line, context& with) { set_up_with(line, with, nullptr); }

namespace {

/// A file's lines are all told, since programs read them; a person at a terminal gets those that repeat once.
int say_faults(const std::vector<std::string>& faults, const char* outcome, const context& with) {
    for (const auto& each : with.talk_on_terminal ? desk::told_together(faults) : faults)
        with.err << each << '\n';
    with.err << desk::likely_cause(faults);
    with.err << fmt::format("refused: {}{}\n", desk::counted(faults.size(), "fault", "faults"), outcome);
    return bad_input;
}

} // namespace

int run(const std::vector<std::string>& arguments, context& with) {
    try {
        command_line line{"tarewell", "Tarewell: a ledger for programs that collect used agricultural film and must "
                                      "prove what was diverted and what it cost."};
        set_up_with(line, with, asked_for(arguments));
        return line.run(arguments, with.out, with.err).value_or(with.exit);
    } catch (const render::form_refused& refusal) {
        return say_faults(refusal.lines(), " in the form; nothing was written", with);
    } catch (const records::refused& refusal) {
        return say_faults(refusal.lines(), "; nothing was changed", with);
    } catch (const records::input_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    } catch (const records::ledger_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    } catch (const records::busy_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return busy;
    } catch (const records::io_error& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return input_output;
    } catch (const std::bad_alloc&) {
        with.err
            << "tarewell: memory ran out; make room and run the command again: what is in the ledger already is not "
               "imported twice\n";
        return input_output;
    } catch (const std::exception& wrong) {
        with.err << "tarewell: " << wrong.what() << '\n';
        return bad_input;
    }
}

} // namespace tarewell::cli
