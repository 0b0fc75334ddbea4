#include "context.hpp"

#include <ostream>

namespace tarewell::cli {

void add_new(CLI::App& program, context& with) {
    auto* sub = program.add_subcommand("new", "make an empty ledger");
    auto file = std::make_shared<std::string>();
    sub->add_option("FILE", *file, "where to make it")->required();
    sub->callback([file, &with] {
        ledger::ledger_file::create(*file);
        with.out << "made an empty ledger: " << *file << '\n';
    });
}

} // namespace tarewell::cli
