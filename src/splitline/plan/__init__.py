# Names that stand for something else in a folder of plans.
NOT_PLANS = {"library.toml": "the site's own tables", "people.toml": "the PINs of those who sign"}
