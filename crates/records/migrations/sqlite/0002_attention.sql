-- The start page asks which cases need a look today: due, silent, or with an open alert. The first two have an index;
-- this is the third, so that the answer never walks through the whole caseload.

CREATE INDEX patient_case_alerts ON patient_case (open_alert_count) WHERE open_alert_count > 0;
