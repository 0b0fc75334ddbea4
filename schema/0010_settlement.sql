-- What a processor says of a shipment, and what it pays or charges for it: why it rejected, its price or charge by the unit
-- of its weight, and which income or cost came of it.

ALTER TABLE acceptances ADD COLUMN "reason" TEXT;
ALTER TABLE acceptances ADD COLUMN "price" TEXT;     -- the processor pays
ALTER TABLE acceptances ADD COLUMN "charge" TEXT;    -- the processor charges
ALTER TABLE acceptances ADD COLUMN "per" TEXT;       -- lb, kg, ton (2,000 lb) or tonne (1,000 kg)
ALTER TABLE costs ADD COLUMN "shipment" TEXT;
ALTER TABLE income ADD COLUMN "shipment" TEXT;
CREATE INDEX costs_by_shipment ON costs ("shipment");
CREATE INDEX income_by_shipment ON income ("shipment");
