#include "context.hpp"

#include <chrono>
#include <cstdlib>
#include <date/date.h>
#include <fmt/format.h>
#include <iostream>
#include <malloc.h>
#include <random>
#include <unistd.h>

namespace {

std::string environment(const std::string& name) {
    const char* value = std::getenv(name.c_str());
    return value == nullptr ? std::string{} : std::string{value};
}

std::string now() {
    const auto seconds = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
    return date::format("%FT%TZ", seconds);
}

std::string random_hex() {
    static std::random_device source;
    std::string text;
    for (int i = 0; i < 4; ++i)
        text += fmt::format("{:08x}", source());
    return text;
}

bool ask(const std::string& question) {
    std::cerr << question << " [y/N] " << std::flush;
    std::string said;
    std::getline(std::cin, said);
    return said == "y" || said == "Y" || said == "yes";
}

std::optional<std::string> read_line(const std::string& prompt) {
    std::cout.flush();
    std::cerr << prompt << std::flush;
    std::string line;
    if (std::getline(std::cin, line)) return line;
    std::cerr << '\n';
    return std::nullopt;
}

/// A large season's blocks are freed and asked for again; giving each back to the system takes a tenth of a command's
/// time, a third of an audit's.
void keep_freed_memory() {
#ifdef __GLIBC__
    constexpr int largest_block = 32 << 20, most_kept = 256 << 20;
    mallopt(M_MMAP_THRESHOLD, largest_block);
    mallopt(M_TRIM_THRESHOLD, most_kept);
#endif
}

} // namespace

int main(int count, char** values) {
    keep_freed_memory();
    std::ios::sync_with_stdio(false);
    tarewell::cli::context with{std::cout, std::cerr, isatty(STDERR_FILENO) == 1, environment, {now, random_hex, {}}};
    if (isatty(STDIN_FILENO) == 1 && with.talk_on_terminal) {
        with.ask = ask;
        with.read_line = read_line;
    }
    const std::vector<std::string> arguments{values + 1, values + count};
    const int code = tarewell::cli::run(arguments, with);
    std::cout.flush();
    if (!std::cout) {
        std::cerr << "tarewell: the output could not be written\n";
        return tarewell::cli::input_output;
    }
    return code;
}
