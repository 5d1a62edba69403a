module pointsmith

go 1.26.0
