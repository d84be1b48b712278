from tests.memory import keep_apart

keep_apart()
