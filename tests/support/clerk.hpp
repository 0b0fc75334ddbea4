#pragma once
#include "context.hpp"
#include "quiet_season.hpp"

#include <nlohmann/json.hpp>

#include <map>
#include <sstream>

namespace tarewell::tests {

/// What a command came to.
struct answered {
    int code = 0;
    std::string out, err;
    [[nodiscard]] nlohmann::ordered_json json() const { return nlohmann::ordered_json::parse(out); }
};

/// A clerk with a folder, a ledger named in the environment and a clock that stands still. Commands run
/// without a process.
class clerk {
  public:
    clerk() { environment["TAREWELL_LEDGER"] = ledger_path(); }

    std::map<std::string, std::string> environment;

    [[nodiscard]] const temporary_folder& folder() const { return folder_; }
    [[nodiscard]] std::string ledger_path() const { return folder_.file("basin.tarewell"); }
    [[nodiscard]] records::entry_no head() const { return ledger::ledger_file::open(ledger_path()).head().seq; }

    answered run(const std::vector<std::string>& arguments) {
        std::ostringstream out, err;
        cli::context with{out, err, false,
                          [this](const std::string& name) {
                              const auto found = environment.find(name);
                              return found == environment.end() ? std::string{} : found->second;
                          },
                          around_};
        const int code = cli::run(arguments, with);
        return {code, out.str(), err.str()};
    }
    /// Runs what must go well; returns what it printed.
    std::string must(const std::vector<std::string>& arguments) {
        const auto done = run(arguments);
        if (done.code != cli::done)
            throw std::logic_error(fmt::format("{} gave {}: {}", arguments[0], done.code, done.err));
        return done.out;
    }
    /// A new ledger with a season taken in.
    void take(const season_files& files) {
        must({"new", ledger_path()});
        std::filesystem::create_directory(folder_.file("season"));
        for (const auto& [name, text] : files)
            folder_.write("season/" + name, text);
        must({"intake", "season", folder_.file("season")});
    }

  private:
    temporary_folder folder_;
    ledger::surroundings around_{standing_still().now, standing_still().random, ""};
};

/// A clerk by whom the quiet season was taken in.
class quiet_clerk : public clerk {
  public:
    quiet_clerk() { take(quiet_season()); }
};

} // namespace tarewell::tests
