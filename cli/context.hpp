#pragma once
#include "command_line.hpp"
#include "desk/answer.hpp"
#include "ledger/ledger.hpp"

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::cli {

/// Exit codes, as the help and the reference list them.
enum exit_code : int { done = 0, findings = 1, usage = 2, bad_input = 65, input_output = 74, busy = 75 };
struct exit_meaning {
    exit_code code;
    const char* meaning;
};
const std::vector<exit_meaning>& exit_codes();

/// All that a command may reach of the world, so that it can be tested without a process.
struct context {
    std::ostream& out;             ///< data
    std::ostream& err;             ///< talk
    bool talk_on_terminal = false; ///< progress may be drawn on err
    std::function<std::string(const std::string& name)> environment;
    ledger::surroundings around;

    /// Asks a person and waits for yes or no; empty where nobody sits at a terminal.
    std::function<bool(const std::string& question)> ask = {};

    /// Reads a line that a person types after a prompt; nothing at the end. Empty where nobody sits at a terminal.
    std::function<std::optional<std::string>(const std::string& prompt)> read_line = {};

    std::string ledger_path = {}; ///< --ledger
    std::string who = {};         ///< --who
    bool json = false;            ///< --json of the command that runs
    int exit = done;

    /// The ledger named by --ledger or TAREWELL_LEDGER. Throws input_error when neither is given.
    [[nodiscard]] ledger::ledger_file open() const;
    [[nodiscard]] std::string path() const;
    [[nodiscard]] bool names_a_ledger() const {
        return !ledger_path.empty() || !environment("TAREWELL_LEDGER").empty();
    }
    /// The surroundings for a command that writes: who it is comes from --who, TAREWELL_WHO, or the login name.
    [[nodiscard]] ledger::surroundings writing() const;
    /// The user's folder of forms: as given, or TAREWELL_TEMPLATES.
    [[nodiscard]] std::string templates_folder(const std::string& given) const {
        return given.empty() ? environment("TAREWELL_TEMPLATES") : given;
    }
    /// The one printer: an answer as text, or as JSON where that was asked for.
    void print(const desk::answer& of);
};

/// Parses the arguments (without the program's name) and runs the command. Returns the exit code.
int run(const std::vector<std::string>& arguments, context& with);

/// A command's part in the table: adds itself to the program with what it does when called.
using add_command = void (*)(const command& program, context& with);
struct table_entry {
    const char* name;
    add_command add;
};
/// The one table of commands, in the order of the help text.
const std::vector<table_entry>& commands();
/// The whole command line with every command of the table.
void set_up(command_line& line, context& with);

void add_new(const command& program, context& with);
void add_intake(const command& program, context& with);
void add_map(const command& intake, context& with);  ///< below intake
void add_fill(const command& report, context& with); ///< below report
void add_record(const command& program, context& with);
void add_enter(const command& program, context& with);
void add_correct(const command& program, context& with);
void add_void(const command& program, context& with);
void add_undo(const command& program, context& with);
void add_award(const command& program, context& with);
void add_list(const command& program, context& with);
void add_register(const command& program, context& with);
void add_settle(const command& program, context& with);
void add_due(const command& program, context& with);
void add_sites(const command& program, context& with);
void add_settings(const command& program, context& with);
void add_estimate(const command& program, context& with);
void add_reconcile(const command& program, context& with);
void add_flags(const command& program, context& with);
void add_quarter(const command& program, context& with);
void add_rollup(const command& program, context& with);
void add_report(const command& program, context& with);
void add_print(const command& program, context& with);
void add_trace(const command& program, context& with);
void add_costs(const command& program, context& with);
void add_ledger(const command& program, context& with);
void add_growers(const command& program, context& with);
void add_document(const command& program, context& with);
void add_audit(const command& program, context& with);
void add_office(const command& program, context& with);
void add_reference(const command& program, context& with);

/// Says on err which closed quarters' filed reports do not have these entries.
void tell_filed(const ledger::ledger_file& file, const std::vector<records::entry_no>& entries, context& with);

/// "date, 2026-05-14": what a column takes, in the help and the reference.
std::string what_it_takes(const records::column& column);

} // namespace tarewell::cli
