#pragma once
#include "context.hpp"
#include "support.hpp"

#include <sstream>

namespace tarewell::tests {

/// What a command answered.
struct answer {
    int code = 0;
    std::string out, err;
};

/// The command line where the clock stands still, without a process.
class terminal {
  public:
    explicit terminal(std::string ledger) : ledger_{std::move(ledger)} {}
    [[nodiscard]] answer tell(const std::vector<std::string>& arguments) const {
        std::ostringstream out, err;
        cli::context with{out, err, false, [](const std::string&) { return std::string{}; }, around_};
        std::vector<std::string> all{"--ledger", ledger_};
        all.insert(all.end(), arguments.begin(), arguments.end());
        const int code = cli::run(all, with);
        return {code, out.str(), err.str()};
    }
    /// The same where it must do: its output. Throws with what it said otherwise.
    [[nodiscard]] std::string done(const std::vector<std::string>& arguments) const {
        auto said = tell(arguments);
        if (said.code != cli::done)
            throw std::runtime_error(fmt::format("exit {}: {}{}", said.code, said.out, said.err));
        return said.out;
    }
    /// Closes a quarter, with a reason for everything that may stop it.
    [[nodiscard]] answer close(const std::string& quarter) const {
        return tell({"quarter", "close", quarter, "--prepared-by", "Maud Ellery", "--reviewed-by", "Dell Rourke",
                     "--certified-by", "Odile Fenn", "--accept",
                     "baled-not-received=label lost, the baler's sheet names it", "--accept",
                     "net-as-printed=the yard confirms what it printed", "--accept",
                     "residue-capped=the settlement is asked about", "--accept", "late-rejection=told by the processor",
                     "--accept", "reject-without-weight=nothing was weighed"});
    }
    [[nodiscard]] const std::string& ledger() const { return ledger_; }

  private:
    std::string ledger_;
    ledger::surroundings around_ = standing_still();
};

/// The sample season of sample_data/ in a ledger of its own.
class sample_desk : public terminal {
  public:
    sample_desk() : sample_desk(std::make_shared<temporary_folder>()) {}
    [[nodiscard]] const temporary_folder& folder() const { return *folder_; }
    [[nodiscard]] std::string file(std::string_view name) const { return folder_->file(name); }
    static std::string season() { return source_path("sample_data/season"); }

  private:
    explicit sample_desk(const std::shared_ptr<temporary_folder>& folder)
        : terminal{folder->file("kestrel.tarewell")}, folder_{folder} {
        (void)done({"new", ledger()});
        (void)done({"intake", "season", season()});
    }
    std::shared_ptr<temporary_folder> folder_;
};

} // namespace tarewell::tests
