#include "context.hpp"

#include <ostream>

namespace tarewell::cli {

void add_new(const command& program, context& with) {
    auto sub = program.add("new", "make an empty ledger");
    auto& file = program.keep<std::string>();
    sub.value("FILE", file, "where to make it").required();
    sub.does([&file, &with] {
        ledger::ledger_file::create(file);
        with.out << "made an empty ledger: " << file << '\n';
    });
}

} // namespace tarewell::cli
