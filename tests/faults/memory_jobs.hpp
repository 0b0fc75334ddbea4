#pragma once
#include "chain_again.hpp"
#include "render/forms.hpp"
#include "render/layout_check.hpp"
#include "render/workbook_writer.hpp"
#include "season_script.hpp"

namespace tarewell::tests {

/// Something that must be done whole or not at all, whatever allocation fails in it.
struct memory_job {
    std::string name;
    /// libxlsxwriter does not bear it that single allocations of its own fail: only the program's do. What happens
    /// where memory is short for both is tried with a limit on all of it.
    bool only_the_programs_own = false;
    std::function<void()> start_again; ///< all as it was before
    std::function<void()> run;
    std::function<std::string()> problem_when_done, problem_when_refused; ///< empty: all is well
};

/// A season's ledger before its intake and before its closing, and the jobs that are tried on it.
class memory_rig {
  public:
    memory_rig() : deeds_{season_script(folder_.path())} {
        for (const auto& [name, text] : base_files())
            folder_.write(name, text);
        deeds_[0].run(path_);
        empty_ = bytes_in(path_);
        deeds_[1].run(path_);
        full_ = bytes_in(path_);
    }

    [[nodiscard]] std::vector<memory_job> jobs() const {
        const deed_at_the_desk close{"a closing", [](const auto& path) { close_one(path, {2026, 2}); }};
        return {ledger_job("an intake", deeds_[1], empty_), ledger_job("a closing", close, full_),
                copy_job("a backup", "copy.tarewell",
                         [this](const auto& to) { ledger::back_up(ledger::ledger_file::open(path_), to); }),
                copy_job("a workbook", "2026-Q2.xlsx", [this](const auto& to) { write_workbook(to); })};
    }

  private:
    temporary_folder folder_{quick_disk()}, written_{quick_disk()};
    std::string path_ = folder_.file("basin.tarewell"), empty_, full_;
    std::vector<deed_at_the_desk> deeds_;
    render::layout layout_ = render::need_layout(render::form_shelf{}.choose("quarter_summary", true).form);

    void put(const std::string& bytes) const {
        std::filesystem::remove(path_ + "-journal");
        (void)folder_.write("basin.tarewell", bytes);
    }
    void write_workbook(const std::string& to) const {
        const auto file = ledger::ledger_file::open(path_);
        const auto head = file.head();
        const auto view = figures::view_period(file, {2026, 2}, head.seq);
        render::write_workbook(to, layout_,
                               {view.report, view.season, view.reckoning, {ledger::hex(head.hash), head.at}});
    }
    [[nodiscard]] bool chain_holds() const {
        const auto chain = chain_again{path_}.all();
        return chain.worked_out == chain.stored;
    }

    /// A deed that changes the ledger.
    [[nodiscard]] memory_job ledger_job(const std::string& name, const deed_at_the_desk& deed,
                                        const std::string& before_bytes) const {
        put(before_bytes);
        const auto before = state_of(path_);
        deed.run(path_);
        const auto after = state_of(path_);
        const auto done = [this, after] { return state_of(path_) == after && chain_holds(); };
        return {name,
                false,
                [this, before_bytes] { put(before_bytes); },
                [this, deed] { deed.run(path_); },
                [done] { return done() ? "" : "came through, but not all of it is there"; },
                [this, done, before, deed]() -> std::string {
                    if (state_of(path_) != before) return "refused, but the ledger changed";
                    deed.run(path_);
                    return done() ? "" : "done again it came out wrong";
                }};
    }

    /// A file that is written from the ledger, the same bytes each time.
    [[nodiscard]] memory_job copy_job(const std::string& name, const std::string& file,
                                      const std::function<void(const std::string&)>& write) const {
        const auto to = written_.file(file);
        const auto start_again = [this] {
            put(full_);
            for (const auto& each : std::filesystem::directory_iterator{written_.path()})
                std::filesystem::remove(each);
        };
        start_again();
        write(to);
        const auto whole = bytes_in(to);
        return {name,
                name == "a workbook",
                start_again,
                [to, write] { write(to); },
                [to, whole] { return bytes_in(to) == whole ? "" : "came through, but the file is not whole"; },
                [this, to, whole, write]() -> std::string {
                    if (std::filesystem::exists(to)) return "refused, but a file stands there";
                    if (!std::filesystem::is_empty(written_.path())) return "refused, but something was left beside it";
                    write(to);
                    return bytes_in(to) == whole && bytes_in(path_) == full_ ? "" : "done again it came out wrong";
                }};
    }
};

} // namespace tarewell::tests
