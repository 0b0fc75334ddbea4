-- What analysts ask in plain SQL, of what is in force now: README.md in the folder above tells each view's columns. They say
-- what `tarewell ... --json` says, and tests/postgresql/check_views holds them to it. Weights are in the award's unit.

SET LOCAL search_path = tarewell;

CREATE FUNCTION quarter_number(day text, starts integer) RETURNS integer LANGUAGE sql IMMUTABLE AS $$
    SELECT (substr(day, 1, 4)::integer * 12 + substr(day, 6, 2)::integer - starts) / 3
$$;
CREATE FUNCTION quarter_name(number integer) RETURNS text LANGUAGE sql IMMUTABLE AS $$
    SELECT lpad((number / 4)::text, 4, '0') || '-Q' || (number % 4 + 1)
$$;
CREATE FUNCTION quarter_begins(number integer, starts integer) RETURNS date LANGUAGE sql IMMUTABLE AS $$
    SELECT make_date((number * 3 + starts - 1) / 12, (number * 3 + starts - 1) % 12 + 1, 1)
$$;
-- A setting as it holds on a day: of the latest "from" by then, else the program's own.
CREATE FUNCTION setting_on(named text, day text, usual numeric) RETURNS numeric LANGUAGE sql STABLE AS $$
    SELECT coalesce((SELECT "value"::numeric FROM tarewell.settings_in_force
                     WHERE "setting" = named AND coalesce("from", '') <= day
                     ORDER BY coalesce("from", '') DESC LIMIT 1), usual)
$$;

-- A correction keeps the place in the order of entry of what it corrects.
CREATE VIEW corrected_entries AS
WITH RECURSIVE line AS (
    SELECT later.seq, earlier.seq AS first FROM journal AS later JOIN journal AS earlier ON earlier.seq = later.replaces
        WHERE earlier.replaces IS NULL
    UNION ALL
    SELECT journal.seq, line.first FROM line JOIN journal ON journal.replaces = line.seq
)
SELECT seq, first FROM line;

-- Whose bundles count as whose, where one person had two ids.
CREATE VIEW grower_counts_as AS
WITH RECURSIVE line AS (
    SELECT "grower", "into" AS counts_as, 1 AS steps FROM merges_in_force
    UNION ALL
    SELECT line."grower", merges_in_force."into", steps + 1 FROM line JOIN merges_in_force ON merges_in_force."grower" = counts_as
        WHERE steps < 100
)
SELECT DISTINCT ON ("grower") "grower", counts_as FROM line ORDER BY "grower", steps DESC;

-- A registration's worked-out estimate in thousandths of the award's unit; the arc of a cover with a rise is floating point.
CREATE VIEW registration_estimates AS
WITH sized AS (
    SELECT "registration", "mil", "rise_ft"::float8 AS rise, "width_ft"::float8 AS width,
           "length_ft"::numeric * "width_ft"::numeric * "layers"::numeric
               * CASE WHEN "rise_ft" IS NOT NULL OR lower(coalesce("structure", '')) = 'flat' THEN 1
                      ELSE setting_on('curvature_factor', "date", 1.5) END
               * CASE WHEN "mil" IS NULL THEN setting_on('area_weight_lb_per_ft2', "date", 0.04) * 0.45359237
                      ELSE 0.09290304 * 0.0254 * "mil"::numeric * setting_on('density_g_per_cm3', "date", 0.92) END AS kg
        FROM covers_in_force
), summed AS (
    SELECT "registration", bool_or("mil" IS NOT NULL) AS by_thickness, bool_or(rise IS NOT NULL AND kg IS NOT NULL) AS has_arc,
           coalesce(sum(kg) FILTER (WHERE rise IS NULL), 0) AS kg,
           coalesce(sum(kg::float8 * 4 * ((width * width / 4 + rise * rise) / (2 * rise)) / width * atan(2 * rise / width))
                        FILTER (WHERE rise IS NOT NULL), 0) AS arc_kg
        FROM sized GROUP BY "registration"
)
SELECT "registration", by_thickness,
       CASE WHEN award_in_force."unit" = 'kg' THEN
                CASE WHEN has_arc THEN floor((kg::float8 + arc_kg) * 1000 + 0.5)::numeric ELSE floor(kg * 1000 + 0.5) END
            ELSE
                CASE WHEN has_arc THEN floor((kg::float8 + arc_kg) / 0.45359237 * 1000 + 0.5)::numeric
                     ELSE div(2000 * kg + 0.45359237, 2 * 0.45359237) END
       END AS thousandths
    FROM summed CROSS JOIN award_in_force;

-- A bundle's estimate in thousandths: its own, or its part of what its registration's covers leave.
CREATE VIEW bundle_estimates AS
SELECT "bundle", bundles_in_force."registration",
       coalesce(estimate_thousandths,
                div(lefts.thousandths, lefts.without)
                    + CASE WHEN row_number() OVER (PARTITION BY bundles_in_force."registration", estimate_thousandths IS NULL
                                                   ORDER BY "number"::numeric)
                                <= mod(lefts.thousandths, lefts.without) THEN 1 ELSE 0 END) AS thousandths,
       CASE WHEN estimate_thousandths IS NOT NULL THEN 'own' WHEN by_thickness THEN 'thickness' ELSE 'constant' END AS basis
    FROM bundles_in_force LEFT JOIN (
        SELECT of_bundles."registration", by_thickness, without, greatest(thousandths - own, 0) AS thousandths
            FROM (SELECT "registration", nullif(count(*) FILTER (WHERE estimate_thousandths IS NULL), 0) AS without,
                         coalesce(sum(estimate_thousandths), 0) AS own
                      FROM bundles_in_force GROUP BY "registration") AS of_bundles
            JOIN registration_estimates USING ("registration")
    ) AS lefts ON lefts."registration" = bundles_in_force."registration";

-- The ticket that counts of each subject: the earliest, then the first entered.
CREATE VIEW first_tickets AS
SELECT DISTINCT ON ("weighs", "subject") "weighs", "subject", "ticket", "date", net_thousandths
    FROM tickets_in_force LEFT JOIN corrected_entries USING (seq)
    ORDER BY "weighs", "subject", "date", coalesce(first, seq);

-- When each bale was weighed: by its own ticket, or by its load's where that leaves something for bales without one.
CREATE VIEW bale_weighings AS
WITH made AS MATERIALIZED (
    SELECT DISTINCT "bale", "date" AS made, "site" FROM bales_in_force
), firsts AS MATERIALIZED (SELECT * FROM first_tickets), shipped AS MATERIALIZED (
    SELECT made.*, "shipment", shipments_in_force."date" AS shipped, own."date" AS own_date, own.net_thousandths AS own_net
        FROM made LEFT JOIN shipments_in_force USING ("bale")
        LEFT JOIN firsts AS own ON own."weighs" = 'bale' AND own."subject" = "bale"
), loads AS MATERIALIZED (
    SELECT "shipment", load."date", load.net_thousandths - coalesce(sum(own_net), 0) AS leaves
        FROM shipped JOIN firsts AS load ON load."weighs" = 'load' AND load."subject" = "shipment"
        GROUP BY "shipment", load."date", load.net_thousandths
)
SELECT "bale", made, "site", shipped."shipment", shipped, own_net, coalesce(own_date, loads."date") AS weighed,
       CASE WHEN own_net IS NULL THEN loads.leaves END AS load_leaves
    FROM shipped LEFT JOIN loads ON loads."shipment" = shipped."shipment" AND leaves > 0;

-- A bundle's rejections before its bale was weighed, by a receipt, a site or the baler.
CREATE VIEW bundle_rejections AS
WITH bale_of AS MATERIALIZED (
    SELECT "bundle", "bale", weighed FROM bales_in_force JOIN bale_weighings USING ("bale")
), told AS (
    SELECT coalesce(receipts_in_force."bundle", labelled."bundle") AS "bundle", receipts_in_force."date"
        FROM receipts_in_force LEFT JOIN bundles_in_force AS labelled
            ON receipts_in_force."bundle" IS NULL AND labelled."registration" = receipts_in_force."registration"
               AND labelled."number"::numeric = receipts_in_force."number"::numeric
        WHERE "outcome" = 'rejected'
    UNION ALL
    SELECT bales_in_force."bundle", rejects_in_force."date"
        FROM rejects_in_force JOIN bales_in_force USING ("bale") WHERE "weight" IS NULL AND "stage" = 'baler'
    UNION ALL
    SELECT rejects_in_force."bundle", "date" FROM rejects_in_force
        WHERE rejects_in_force."bundle" IS NOT NULL AND rejects_in_force."bale" IS NULL AND "stage" <> 'processor'
            AND NOT ("weight" IS NOT NULL AND EXISTS (SELECT 1 FROM bale_of WHERE bale_of."bundle" = rejects_in_force."bundle"))
)
SELECT told."bundle", "date" FROM told LEFT JOIN bale_of USING ("bundle") WHERE weighed IS NULL OR "date" < weighed;

CREATE VIEW bundle_lives AS
WITH claimed AS MATERIALIZED (SELECT * FROM bundle_estimates), spots AS MATERIALIZED (
    SELECT "subject" AS "bundle", net_thousandths FROM first_tickets WHERE "weighs" = 'bundle'
), registered AS MATERIALIZED (
    SELECT DISTINCT "registration", "date" AS registered, "grower", "site" FROM covers_in_force
), accepted AS MATERIALIZED (
    SELECT coalesce(receipts_in_force."bundle", labelled."bundle") AS "bundle", max(receipts_in_force."date") AS accepted
        FROM receipts_in_force LEFT JOIN bundles_in_force AS labelled
            ON receipts_in_force."bundle" IS NULL AND labelled."registration" = receipts_in_force."registration"
               AND labelled."number"::numeric = receipts_in_force."number"::numeric
        WHERE "outcome" = 'accepted' GROUP BY 1
), rejected AS MATERIALIZED (
    SELECT "bundle", min("date") AS rejected, min("date") FILTER (WHERE "date" >= accepted) AS rejected_since
        FROM bundle_rejections LEFT JOIN accepted USING ("bundle") GROUP BY "bundle"
)
SELECT "bundle", "registration", registered, coalesce(counts_as, registered."grower") AS "grower", registered."site",
       thousandths AS estimate, basis, accepted, bales_in_force."bale", spots.net_thousandths AS spot, rejected, rejected_since
    FROM claimed JOIN registered USING ("registration") LEFT JOIN accepted USING ("bundle")
    LEFT JOIN rejected USING ("bundle") LEFT JOIN bales_in_force USING ("bundle")
    LEFT JOIN spots USING ("bundle")
    LEFT JOIN grower_counts_as ON grower_counts_as."grower" = registered."grower";

-- Bales with their net in thousandths: a load's rest is shared by estimate, the largest remainders first, then by id.
CREATE VIEW bale_lives AS
WITH weighings AS MATERIALIZED (SELECT * FROM bale_weighings), lives AS MATERIALIZED (SELECT * FROM bundle_lives),
claimed AS (
    SELECT weighings.*, coalesce(sum(estimate) FILTER (WHERE rejected_since IS NULL), 0) AS estimate,
           count("bundle") AS bundles
        FROM weighings LEFT JOIN lives USING ("bale")
        GROUP BY "bale", made, weighings."site", "shipment", shipped, own_net, weighed, load_leaves
), weighted AS (
    SELECT *, CASE WHEN sum(estimate) OVER load > 0 THEN estimate ELSE 1 END AS part,
           CASE WHEN sum(estimate) OVER load > 0 THEN sum(estimate) OVER load ELSE count(*) OVER load END AS parts
        FROM claimed WINDOW load AS (PARTITION BY "shipment", load_leaves IS NULL)
), shared AS (
    SELECT *, div(load_leaves * part, parts) AS whole,
           row_number() OVER (PARTITION BY "shipment", load_leaves IS NULL
                              ORDER BY mod(load_leaves * part, parts) DESC, "bale") AS place
        FROM weighted
)
SELECT "bale", made, "site", "shipment", shipped, weighed, bundles, estimate,
       coalesce(own_net, whole + CASE WHEN place <= load_leaves - sum(whole) OVER (PARTITION BY "shipment", load_leaves IS NULL)
                                      THEN 1 ELSE 0 END) AS net
    FROM shared;

-- Each bundle's part of its weighed bale's net, in thousandths: its spot weight, or by estimate.
CREATE VIEW bundle_shares AS
WITH lives AS MATERIALIZED (SELECT * FROM bundle_lives), pressed AS MATERIALIZED (SELECT * FROM bale_lives), inside AS (
    SELECT lives."bundle", "bale", spot, lives.estimate, net, net - coalesce(sum(spot) OVER bale, 0) AS leaves,
           count(spot) OVER bale AS spots, count(*) OVER bale AS bundles
        FROM lives JOIN pressed USING ("bale") WHERE net IS NOT NULL AND rejected_since IS NULL
        WINDOW bale AS (PARTITION BY "bale")
), divided AS (
    SELECT *, spots > 0 AND (spots = bundles OR leaves <= 0) AS all_share FROM inside
), sharing AS (
    SELECT *, all_share OR spot IS NULL AS takes_part, CASE WHEN all_share THEN net ELSE leaves END AS total,
           CASE WHEN all_share THEN coalesce(spot, estimate) ELSE estimate END AS part
        FROM divided
), weighted AS (
    SELECT *, CASE WHEN sum(part) OVER bale > 0 THEN part ELSE 1 END AS weight,
           CASE WHEN sum(part) OVER bale > 0 THEN sum(part) OVER bale ELSE count(*) OVER bale END AS weights
        FROM sharing WINDOW bale AS (PARTITION BY "bale", takes_part)
), shared AS (
    SELECT *, div(total * weight, weights) AS whole,
           row_number() OVER (PARTITION BY "bale", takes_part ORDER BY mod(total * weight, weights) DESC, "bundle") AS place
        FROM weighted
)
SELECT "bundle", "bale",
       CASE WHEN takes_part THEN whole + CASE WHEN place <= total - sum(whole) OVER (PARTITION BY "bale", takes_part)
                                              THEN 1 ELSE 0 END
            ELSE spot END AS share
    FROM shared;

-- What each reject took out of a weighed bale, in thousandths: never more than is left of its net.
CREATE VIEW residues AS
WITH shares AS MATERIALIZED (SELECT * FROM bundle_shares), pressed AS MATERIALIZED (SELECT * FROM bale_lives), asked AS (
    SELECT "reject", rejects_in_force."date", "stage", pressed."bale", net, coalesce(first, rejects_in_force.seq) AS place,
           CASE WHEN rejects_in_force."bundle" IS NOT NULL AND shares."bundle" IS NULL THEN 0
                WHEN "weight" IS NOT NULL THEN weight_thousandths
                WHEN rejects_in_force."bundle" IS NOT NULL THEN share
                ELSE net END AS asked
        FROM rejects_in_force LEFT JOIN corrected_entries USING (seq)
        LEFT JOIN bales_in_force AS of_bundle ON of_bundle."bundle" = rejects_in_force."bundle"
        JOIN pressed ON pressed."bale" = CASE WHEN rejects_in_force."bundle" IS NOT NULL THEN of_bundle."bale"
                                                    ELSE rejects_in_force."bale" END
        LEFT JOIN shares ON shares."bundle" = rejects_in_force."bundle"
        WHERE weighed IS NOT NULL AND rejects_in_force."date" >= weighed
), summed AS (
    SELECT *, sum(asked) OVER (PARTITION BY "bale" ORDER BY "date", place) AS by_then FROM asked
)
SELECT "reject", "date", "stage", "bale", least(by_then, net) - least(by_then - asked, net) AS thousandths FROM summed;

-- What counts as diverted, by the award's way of counting: a day and thousandths of the unit.
CREATE VIEW diversions AS
WITH pressed AS MATERIALIZED (SELECT * FROM bale_lives), taken AS MATERIALIZED (SELECT * FROM residues),
way AS (SELECT coalesce("counted_when", 'weighed') AS counted_when FROM award_in_force)
SELECT weighed AS day, net AS thousandths FROM pressed, way WHERE counted_when = 'weighed' AND weighed IS NOT NULL
UNION ALL
SELECT "date", -thousandths FROM taken, way WHERE counted_when = 'weighed'
UNION ALL
SELECT greatest(weighed, shipped), net FROM pressed, way
    WHERE counted_when = 'shipped' AND weighed IS NOT NULL AND shipped IS NOT NULL
UNION ALL
SELECT greatest("date", shipped), -thousandths FROM taken JOIN pressed USING ("bale"), way
    WHERE counted_when = 'shipped' AND shipped IS NOT NULL
UNION ALL
SELECT "date", weight_thousandths FROM acceptances_in_force, way WHERE counted_when = 'accepted'
UNION ALL
SELECT taken."date", -thousandths FROM taken JOIN pressed USING ("bale") JOIN acceptances_in_force USING ("shipment"), way
    WHERE counted_when = 'accepted' AND "stage" = 'processor' AND taken."date" > acceptances_in_force."date";

-- Match: costs on match, in-kind contributions, and program income spent as match that no cost tells already.
CREATE VIEW match_given AS
SELECT "date" AS day, amount_cents AS cents FROM costs_in_force WHERE "fund" = 'match'
UNION ALL
SELECT "date", value_cents FROM inkind_in_force
UNION ALL
SELECT "date", amount_cents FROM income_in_force WHERE "kind" = 'spent' AND "method" = 'match' AND "cost" IS NULL;

CREATE VIEW analyst_bundles AS
WITH lives AS MATERIALIZED (SELECT * FROM bundle_lives), shares AS MATERIALIZED (SELECT * FROM bundle_shares)
SELECT "bundle", "registration", registered::date, "grower", "site", round(estimate / 1000, 3) AS estimate, basis, accepted::date,
       rejected::date, rejected_since::date, lives."bale", round(spot / 1000.0, 3) AS spot_weight,
       round(share / 1000, 3) AS share_of_bale
    FROM lives LEFT JOIN shares USING ("bundle");

CREATE VIEW analyst_bales AS
WITH pressed AS MATERIALIZED (SELECT * FROM bale_lives), taken AS MATERIALIZED (
    SELECT "bale", sum(thousandths) AS thousandths FROM residues GROUP BY "bale"
)
SELECT "bale", made::date, "site", "shipment", shipped::date, weighed::date, bundles, round(estimate / 1000, 3) AS estimate,
       round(net / 1000, 3) AS net, round(coalesce(thousandths, 0) / 1000, 3) AS residue
    FROM pressed LEFT JOIN taken USING ("bale");

CREATE VIEW analyst_tickets AS
SELECT tickets_in_force."ticket", tickets_in_force."date"::date, "scale", tickets_in_force."weighs", tickets_in_force."subject",
       round(tickets_in_force.net_thousandths / 1000.0, 3) AS net, "weigher",
       first_tickets."ticket" IS NOT NULL AS decides
    FROM tickets_in_force LEFT JOIN first_tickets USING ("weighs", "subject", "ticket");

CREATE VIEW analyst_costs AS
SELECT "cost", "date"::date, quarter_name(quarter_number("date", "quarter_starts"::integer)) AS quarter, "category", "fund",
       round(amount_cents / 100.0, 2) AS amount, "payee", costs_in_force."site", "purpose", "paid_on"::date
    FROM costs_in_force CROSS JOIN award_in_force;

CREATE VIEW analyst_costs_by_category AS
SELECT quarter, "category", "fund", count(*) AS costs, sum(amount) AS amount
    FROM analyst_costs GROUP BY quarter, "category", "fund";

-- A row for each quarter from the first day that the ledger tells of to the last.
CREATE VIEW analyst_quarters AS
WITH days AS (
    SELECT "begins" AS day FROM award_in_force UNION ALL SELECT "ends" FROM award_in_force
    UNION ALL SELECT "date" FROM covers_in_force UNION ALL SELECT "date" FROM receipts_in_force
    UNION ALL SELECT "date" FROM rejects_in_force UNION ALL SELECT "date" FROM bales_in_force
    UNION ALL SELECT "date" FROM tickets_in_force UNION ALL SELECT "date" FROM shipments_in_force
    UNION ALL SELECT "date" FROM acceptances_in_force UNION ALL SELECT "date" FROM costs_in_force
    UNION ALL SELECT day FROM match_given UNION ALL SELECT "date" FROM payments_in_force
), numbers AS (
    SELECT "quarter_starts"::integer AS starts,
           generate_series(min(quarter_number(day, "quarter_starts"::integer)),
                           max(quarter_number(day, "quarter_starts"::integer))) AS number
        FROM days CROSS JOIN award_in_force GROUP BY "quarter_starts"
)
SELECT quarter_name(number) AS quarter, quarter_begins(number, starts) AS first_day,
       quarter_begins(number + 1, starts) - 1 AS last_day
    FROM numbers;

-- Figures of `tarewell quarter show`, by the names that they have there. Tons are of 2,000 lb.
CREATE VIEW analyst_figures AS
WITH lived AS MATERIALIZED (SELECT * FROM bundle_lives), pressed AS MATERIALIZED (SELECT * FROM bale_lives),
taken AS MATERIALIZED (SELECT * FROM residues), counted AS MATERIALIZED (SELECT * FROM diversions),
quarters AS (
    SELECT quarter, first_day, last_day, first_day::text AS f, last_day::text AS l,
           CASE "unit" WHEN 'kg' THEN 2000000 * 0.45359237 ELSE 2000000 END AS thousandths_a_ton
        FROM analyst_quarters CROSS JOIN award_in_force
)
SELECT quarter, first_day, last_day,
    (SELECT count(*) FROM lived WHERE registered BETWEEN f AND l) AS registered_bundles,
    (SELECT round(coalesce(sum(estimate), 0) / 1000, 3) FROM lived WHERE registered BETWEEN f AND l) AS registered_estimate,
    (SELECT count(*) FROM lived WHERE accepted BETWEEN f AND l) AS received_bundles,
    (SELECT round(coalesce(sum(estimate), 0) / 1000, 3) FROM lived WHERE accepted BETWEEN f AND l) AS received_estimate,
    (SELECT count(*) FROM lived WHERE rejected BETWEEN f AND l) AS rejected_bundles,
    (SELECT round(coalesce(sum(estimate), 0) / 1000, 3) FROM lived WHERE rejected BETWEEN f AND l) AS rejected_estimate,
    (SELECT count(DISTINCT "grower") FROM lived WHERE accepted BETWEEN f AND l AND "grower" <> 'unknown') AS growers_served,
    (SELECT count(DISTINCT "site") FROM receipts_in_force WHERE "date" BETWEEN f AND l) AS sites_active,
    (SELECT count(*) FROM pressed WHERE made BETWEEN f AND l) AS bales_made,
    (SELECT coalesce(sum(bundles), 0) FROM pressed WHERE made BETWEEN f AND l) AS baled_bundles,
    (SELECT count(*) FROM pressed WHERE weighed BETWEEN f AND l) AS bales_weighed,
    (SELECT round(coalesce(sum(net), 0) / 1000, 3) FROM pressed WHERE weighed BETWEEN f AND l) AS bale_net_weight,
    (SELECT round(coalesce(sum(estimate), 0) / 1000, 3) FROM pressed WHERE weighed BETWEEN f AND l) AS bale_estimate,
    (SELECT count(*) FROM lived LEFT JOIN pressed USING ("bale")
        WHERE accepted <= l AND (rejected_since IS NULL OR rejected_since > l) AND (weighed IS NULL OR weighed > l)) AS on_hand_bundles,
    (SELECT round(coalesce(sum(lived.estimate), 0) / 1000, 3) FROM lived LEFT JOIN pressed USING ("bale")
        WHERE accepted <= l AND (rejected_since IS NULL OR rejected_since > l) AND (weighed IS NULL OR weighed > l)) AS on_hand_estimate,
    (SELECT round(coalesce(sum(thousandths), 0) / 1000, 3) FROM taken WHERE "date" BETWEEN f AND l) AS residue_weight,
    (SELECT round(coalesce(sum(thousandths), 0) / 1000, 3) FROM counted WHERE day BETWEEN f AND l) AS diverted_weight,
    (SELECT coalesce(sum(thousandths), 0) / thousandths_a_ton FROM counted WHERE day BETWEEN f AND l) AS diverted_tons,
    (SELECT coalesce(sum(thousandths), 0) / thousandths_a_ton FROM counted WHERE day <= l) AS diverted_tons_to_date,
    (SELECT coalesce(sum(net), 0) / thousandths_a_ton FROM pressed
        WHERE weighed IS NOT NULL AND shipped IS NOT NULL AND greatest(weighed, shipped) BETWEEN f AND l) AS shipped_tons,
    (SELECT coalesce(sum(weight_thousandths), 0) / thousandths_a_ton FROM acceptances_in_force WHERE "date" BETWEEN f AND l) AS accepted_tons,
    (SELECT count(*) FROM pressed WHERE made <= l AND (shipped IS NULL OR shipped > l)) AS bales_on_hand,
    (SELECT round(coalesce(sum(amount_cents), 0) / 100, 2) FROM costs_in_force
        WHERE "fund" = 'grant' AND "category" <> 'indirect' AND "date" BETWEEN f AND l) AS grant_spent,
    (SELECT round(coalesce(sum(amount_cents), 0) / 100, 2) FROM costs_in_force
        WHERE "fund" = 'grant' AND "category" <> 'indirect' AND "date" <= l) AS grant_spent_to_date,
    (SELECT round(coalesce(sum(cents), 0) / 100, 2) FROM match_given WHERE day BETWEEN f AND l) AS match_given,
    (SELECT round(coalesce(sum(cents), 0) / 100, 2) FROM match_given WHERE day <= l) AS match_to_date,
    (SELECT round(coalesce(sum(amount_cents), 0) / 100, 2) FROM payments_in_force WHERE "date" BETWEEN f AND l) AS payments_received
    FROM quarters;
