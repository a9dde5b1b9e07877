package fuel_test
